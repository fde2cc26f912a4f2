/** Who needs a hand first. The order is the house's own rule, written down here beside its reasons; there is no source for one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CUES } from '../../src/pacing/cues/cues.ts';
import { SHOWN_CUES } from '../../src/pacing/cues/shown-cues.ts';
import { byNeed, NEEDS, type Need, needOf, UNHEEDED_SEC } from '../../src/ward/board/needs.ts';

const need = (showing: Parameters<typeof needOf>[0]['showing'], shownForSec = 0): Need =>
  needOf({ showing, shownForSec, isFeeding: true, isReady: false });

describe('what a cot needs', () => {
  it.each([
    ['cannot-tell', 'look'],
    ['no-guidance', 'look'],
    ['asleep-early', 'look'],
    ['nipple-out', 'look'],
    ['keep-low', 'again'],
    ['tilt-down', 'cue'],
    ['breath-pause', 'cue'],
    ['burp', 'cue'],
    ['offer-stop', 'enough'],
    ['hole-dry', 'hint'],
    ['fast-nipple', 'hint'],
    ['gentle', 'quiet'],
    ['held-steeply', 'quiet'],
    ['guidance-off', 'quiet'],
    ['cues-withheld', 'quiet'],
  ] as const)('%s: %s', (showing, expected) => {
    expect(need(showing)).toBe(expected);
  });

  it('a cue that nobody followed needs a hand again, but a burp or the other arm may wait', () => {
    for (const showing of ['tilt-down', 'breath-pause', 'offer-stop'] as const) {
      expect(need(showing, UNHEEDED_SEC - 1)).not.toBe('again');
      expect(need(showing, UNHEEDED_SEC)).toBe('again');
    }
    for (const showing of ['burp', 'last-burp', 'switch-side'] as const)
      expect(need(showing, 3600)).toBe('cue');
  });

  it('holds for every cue there is: what no study may withhold never stands behind a hint', () => {
    for (const showing of SHOWN_CUES) expect(NEEDS).toContain(need(showing));
    for (const kind of ['offer-stop', 'asleep-early', 'breath-pause'] as const) {
      expect(CUES[kind].mayBeWithheld).toBe(false);
      expect(NEEDS.indexOf(need(kind))).toBeLessThan(NEEDS.indexOf('hint'));
    }
  });

  it('before and after a feed nothing is asked of anybody', () => {
    for (const showing of ['cannot-tell', 'tilt-down', 'waiting'] as const) {
      expect(needOf({ showing, shownForSec: 0, isFeeding: false, isReady: true })).toBe('waiting');
      expect(needOf({ showing, shownForSec: 0, isFeeding: false, isReady: false })).toBe('quiet');
    }
  });
});

describe('the order', () => {
  const placed = (of: Need, shownForSec: number, sleeve: number) => ({ need: of, shownForSec, sleeve });

  it('goes by need, then by who has waited longest', () => {
    const cots = [placed('quiet', 900, 4), placed('cue', 3, 1), placed('cue', 40, 2), placed('look', 1, 3)];
    expect(cots.sort(byNeed).map(({ sleeve }) => sleeve)).toEqual([3, 2, 1, 4]);
  });

  it('leaves each in its place where nobody waits', () => {
    const cots = [placed('quiet', 10, 2), placed('quiet', 99, 3), placed('quiet', 50, 1)];
    expect(cots.sort(byNeed).map(({ sleeve }) => sleeve)).toEqual([1, 2, 3]);
  });

  it('is the same however the cots come in (200 draws)', () => {
    const cot = fc.record({
      need: fc.constantFrom(...NEEDS),
      shownForSec: fc.integer({ min: 0, max: 5 }),
      sleeve: fc.integer({ min: 1, max: 1000 }),
    });
    fc.assert(
      fc.property(fc.uniqueArray(cot, { selector: ({ sleeve }) => sleeve, maxLength: 60 }), (cots) => {
        const sorted = [...cots].sort(byNeed);
        expect([...cots].reverse().sort(byNeed)).toEqual(sorted);
        for (const [i, one] of sorted.slice(1).entries())
          expect(NEEDS.indexOf(one.need)).toBeGreaterThanOrEqual(NEEDS.indexOf(sorted[i]!.need));
      }),
      { numRuns: 200, seed: 7 },
    );
  });
});
