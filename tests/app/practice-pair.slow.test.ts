import { describe, expect, it } from 'vitest';
import { practicePair } from '../../src/app/practice/practice-pair.ts';
import { isCue } from '../../src/web/live/tone.ts';
import { lengthSec } from '../../src/web/practice/playing.ts';

describe('two practice feeds of one baby', async () => {
  const { steep, followed } = await practicePair(2);

  it('are over in 5 minutes held steeply, and take 12 to 25 when the light is followed, with 8 cues at most', () => {
    expect(lengthSec(steep) / 60).toBeLessThan(6);
    expect(lengthSec(followed) / 60).toBeGreaterThan(12);
    expect(lengthSec(followed) / 60).toBeLessThan(25);
    expect(followed.shown.filter(({ showing }) => isCue(showing)).length).toBeLessThanOrEqual(8);
  });

  it('begin with the first suck and end with the last, in rows without a hole', () => {
    for (const feed of [steep, followed]) {
      expect(feed.teatIn[0]).toBe(true);
      expect(feed.teatIn.at(-2)).toBe(true);
      expect(feed.teatIn.at(-1)).toBe(false);
      expect(feed.tiltDeg).toHaveLength(feed.ahead.length);
      expect(feed.teatIn).toHaveLength(feed.ahead.length);
      for (const ahead of feed.ahead) if (ahead !== null) expect(ahead >= 0 && ahead <= 1).toBe(true);
      expect(feed.shown.every(({ atSec }, index) => atSec >= (feed.shown[index - 1]?.atSec ?? 0))).toBe(true);
    }
  });

  it('differ in how the bottle is held', () => {
    const steepHeld = (tilts: number[]) => tilts.filter((tilt) => tilt > 120).length / tilts.length;
    expect(steepHeld(steep.tiltDeg)).toBeGreaterThan(0.8);
    expect(steepHeld(followed.tiltDeg)).toBeLessThan(0.4);
  });

  it('never call a steep hold gentle: while nothing else is said, it says how the bottle is held', () => {
    for (const feed of [steep, followed]) {
      const showingAt = (atSec: number) => feed.shown.findLast((one) => one.atSec <= atSec)?.showing;
      const unsaid = feed.tiltDeg.filter((tilt, row) => {
        const atSec = row * feed.rowSec;
        return tilt > 122 && feed.teatIn[row] && feed.teatIn[row + 1] && showingAt(atSec) === 'gentle';
      });
      expect(unsaid.length * feed.rowSec).toBeLessThan(2);
    }
    expect(steep.shown[0]!.atSec < 5 && steep.shown.slice(0, 3).map(({ showing }) => showing)).toContain(
      'held-steeply',
    );
  });

  it('are the same each time, and tell no amount', async () => {
    const again = await practicePair(2);
    expect(again.followed).toEqual(followed);
    expect(Object.keys(steep).sort()).toEqual(['ahead', 'rowSec', 'shown', 'teatIn', 'technique', 'tiltDeg']);
  });

  it('say in both languages how each was given, without an amount', () => {
    for (const { technique } of [steep, followed]) {
      for (const language of ['en', 'es']) {
        expect(technique?.[language]?.length).toBeGreaterThan(2);
        expect(technique?.[language]?.join(' ')).not.toMatch(/\d\s*(ml|fl|oz|%)/i);
      }
    }
    // Held at 145° all the time: almost never level, and no burp.
    expect(steep.technique?.en?.join(' ')).toMatch(/Burps: 0\./);
    expect(followed.technique?.en?.join(' ')).toMatch(/Burps: [2-9]\./);
  });
});
