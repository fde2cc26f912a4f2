/**
 * The end of a feed. Times of left-over milk by the published rules: expressed milk within 2 hours after the feed (CDC, storage and preparation of breast
 * milk), formula within 1 hour of its start (CDC, infant formula preparation and storage).
 */
import { describe, expect, it } from 'vitest';
import { afterFeed } from '../../src/app/review/after-feed.ts';
import type { KeptFeed } from '../../src/feed/record/feed.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';
import { keptFeed } from '../support/kept-feeds.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const { startedAtMs } = keptFeed();
/** The last suck is 10 min 30 s after the first. */
const FINISHED_MS = startedAtMs + 10.5 * MINUTE_MS;
const NOW_MS = startedAtMs + 20 * MINUTE_MS;
const endOf = (part: Partial<KeptFeed> = {}, local: Parameters<typeof afterFeed>[2] = []) =>
  afterFeed(keptFeed(part), NOW_MS, local);
const setup = (milkKind: KeptFeed['setup']['milkKind'], portionMl: number | null = null) => ({
  ...EMPTY_SETUP,
  milkKind,
  portionMl,
});

describe('until when what is left over may be used', () => {
  it('expressed: an hour once baby has drunk from it (NHS) stands before two hours after baby finished (CDC)', () => {
    const closedLate = endOf({ endedAtMs: FINISHED_MS + 45 * MINUTE_MS });
    expect(closedLate.finishedAtMs).toBe(FINISHED_MS);
    expect(closedLate.uses).toEqual([
      { from: 'start', untilMs: startedAtMs + HOUR_MS, hours: 1, authority: 'NHS', rule: null },
      { from: 'end', untilMs: FINISHED_MS + 2 * HOUR_MS, hours: 2, authority: 'CDC', rule: null },
    ]);
  });

  it('formula: one hour after the feed began', () => {
    expect(endOf({ setup: setup('formula') }).uses).toEqual([
      { from: 'start', untilMs: startedAtMs + HOUR_MS, hours: 1, authority: 'CDC', rule: null },
    ]);
  });

  it('mixed: the first to pass stands first; not known: nothing is said', () => {
    expect(endOf({ setup: setup('mixed') }).uses.map(({ from }) => from)).toEqual(['start', 'start', 'end']);
    expect(endOf({ setup: setup(null) }).uses).toEqual([]);
  });

  it('a rule of the place stands in for the published one', () => {
    const local = [{ situation: 'after-feed' as const, hours: 1, name: 'Center’s sheet' }];
    expect(endOf({}, local).uses).toEqual([
      { from: 'start', untilMs: startedAtMs + HOUR_MS, hours: 1, authority: 'NHS', rule: null },
      { from: 'end', untilMs: FINISHED_MS + HOUR_MS, hours: 1, authority: null, rule: 'Center’s sheet' },
    ]);
  });

  it('goes by the start as it was corrected, and by the milk', () => {
    const earlier = startedAtMs - 30 * MINUTE_MS;
    const corrected = {
      startedAtMs: earlier,
      endedAtMs: null,
      setup: setup('formula'),
      reading: null,
      note: 'Sleepy.',
    };
    expect(endOf({ corrected })).toMatchObject({
      note: 'Sleepy.',
      uses: [{ untilMs: earlier + HOUR_MS }],
    });
  });

  it('in a simulation that runs faster than the clock the feed ended when it ended', () => {
    const fast = endOf({ endedAtMs: startedAtMs + 20_000, durationSec: 630 });
    expect(fast.finishedAtMs).toBe(startedAtMs + 20_000);
  });
});

describe('what is left over', () => {
  it('is what was entered and did not leave; else what was weighed last; else not known', () => {
    expect(endOf({ setup: setup('expressed', 90) })).toMatchObject({ leftMl: 27, isWeighed: false });
    expect(endOf()).toMatchObject({ takenMl: 63, leftMl: 27, isWeighed: true });
    expect(endOf({ rows: [] })).toMatchObject({ leftMl: null, isWeighed: false });
  });

  it('is what somebody read off the bottle, before all else', () => {
    const corrected = {
      startedAtMs,
      endedAtMs: null,
      setup: setup('expressed', 90),
      reading: { offeredMl: null, leftMl: 20 },
      note: null,
    };
    expect(endOf({ corrected })).toMatchObject({ leftMl: 20, isWeighed: false });
  });

  it('is never below 0 mL', () => {
    expect(endOf({ rows: keptFeed().rows.map((row) => ({ ...row, milkMl: -1.5 })) }).leftMl).toBe(0);
  });
});

it('what of the sleeve did not fit is told once each, in the order in which it was found', () => {
  expect(endOf().sensorFaults).toEqual([]);
  const events: KeptFeed['events'] = [
    { kind: 'teat-in', atSec: 1 },
    { kind: 'sensor-fault', atSec: 20, fault: 'motion-alone' },
    { kind: 'sensor-fault', atSec: 30, fault: 'gyroscope-stuck' },
    { kind: 'sensor-fault', atSec: 40, fault: 'motion-alone' },
  ];
  expect(endOf({ events }).sensorFaults).toEqual(['motion-alone', 'gyroscope-stuck']);
});
