/** A study feed in which cues about the practice of pacing are decided and kept, and not shown. */
import { describe, expect, it } from 'vitest';
import { SHOWING_START, type ShowingInput, stepShowing } from '../../src/feed/live/showing.ts';
import type { Guided } from '../../src/feed/recording/guided.ts';
import { mayBeWithheld, SHOWN_CUES } from '../../src/pacing/cues/shown-cues.ts';
import { createCapturedSleeve } from '../support/captured-sleeve.ts';
import { readFixture } from '../support/captures.ts';
import { showing } from '../support/live-feeds.ts';
import { liveRun, shownFrom } from '../support/live-run.ts';
import { keptCues, keptEvents } from '../support/memory-storage.ts';

// The fixture ends at 90 s.
const POURED_SEC = 85;

async function pouredRun(withholds: boolean) {
  const { bytes, calibration } = readFixture('poured');
  const guided: Guided = { ran: null, notices: [], severalBabies: false, ...(withholds && { withholds }) };
  const run = await liveRun(createCapturedSleeve(bytes), {
    calibration,
    guide: () => guided,
  });
  return run;
}

describe('a feed whose cues a study withholds', () => {
  it('keeps the very cues of the same feed with cues shown, and shows, glows and sounds none of them', async () => {
    const [shown, withheld] = [await pouredRun(false), await pouredRun(true)];
    for (const { run } of [shown, withheld]) await run(POURED_SEC);
    const cues = keptCues(shown.storage.only);
    expect(cues.map(({ kind }) => kind)).toContain('tilt-down');
    expect(keptCues(withheld.storage.only)).toEqual(cues);
    expect(shown.said.sound).not.toEqual([]);
    expect(withheld.said.sound).toEqual([]);
    expect(shown.said.light.some(({ light }) => light.red === 255)).toBe(true);
    expect(withheld.said.light.some(({ light }) => light.red === 255)).toBe(false);
    const states = shownFrom(withheld).map(([, showing]) => showing);
    expect(new Set(states.slice(states.indexOf('cues-withheld')))).toEqual(new Set(['cues-withheld']));
    // How far the milk is ahead of the pace would tell as much as a cue.
    expect(withheld.views.every(({ view }) => view.aheadOfPace === null)).toBe(true);
    expect(keptEvents(withheld.storage.only).filter(({ kind }) => kind.startsWith('cues'))).toEqual([
      { kind: 'cues-withheld', atSec: 0 },
    ]);
  });

  it('shows them from then on to whoever asks for them, and notes it', async () => {
    const { run, until, live, storage } = await pouredRun(true);
    await until((view) => view.showing === 'cues-withheld' && keptCues(storage.only).length > 0);
    live.command({ kind: 'show-cues' });
    await until(showing('tilt-down'));
    await run(1);
    const noted = keptEvents(storage.only).filter(({ kind }) => kind.startsWith('cues'));
    expect(noted.map(({ kind }) => kind)).toEqual(['cues-withheld', 'cues-shown']);
    expect(noted[1]!.atSec).toBeGreaterThan(5);
  });
});

describe('what a study may not withhold', () => {
  const input = (part: Partial<ShowingInput>): ShowingInput => ({
    nowMs: 1000,
    fresh: true,
    feedOpen: true,
    guidanceOff: false,
    withheld: true,
    cue: null,
    heldSteeply: false,
    invalid: false,
    ...part,
  });

  it('is signs of stress and of enough, and the nipple out after cues in vain', () => {
    const always = SHOWN_CUES.filter((cue) => !mayBeWithheld(cue));
    expect(always.sort()).toEqual([
      'asleep-early',
      'breath-pause',
      'hold-upright',
      'hunger-again',
      'long-feed',
      'nipple-out',
      'offer-stop',
    ]);
    for (const cue of always)
      expect([cue, stepShowing(SHOWING_START, input({ cue })).showing]).toEqual([cue, cue]);
  });

  it('nor that nothing is heard, that the estimate fails, or that somebody turned cues off', () => {
    expect(stepShowing(SHOWING_START, input({ fresh: false })).showing).toBe('no-guidance');
    expect(stepShowing(SHOWING_START, input({ guidanceOff: true })).showing).toBe('guidance-off');
    let step = stepShowing(SHOWING_START, input({ invalid: true }));
    for (let nowMs = 1100; nowMs < 3000; nowMs += 100)
      step = stepShowing(step, input({ nowMs, invalid: true }));
    expect(step.showing).toBe('cannot-tell');
  });

  it('a hint about a steep hold it may', () => {
    expect(stepShowing(SHOWING_START, input({ heldSteeply: true })).showing).toBe('cues-withheld');
  });
});
