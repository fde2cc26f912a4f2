import { describe, expect, it } from 'vitest';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { type Draws, seededDraws } from '../support/distributions.ts';
import { type Away, type FeedPlan, inputsOf, pace } from '../support/pacing-inputs.ts';
import { seededRandom } from '../support/random.ts';
import { type Habit, habitSucks, type Suck, steadySucks } from '../support/suck-trains.ts';

const stops = (plan: FeedPlan) => pace(inputsOf(plan)).cues.filter((cue) => cue.kind === 'offer-stop');
const seeds = (count: number) => Array.from({ length: count }, (_, index) => index + 1);

const EAGER: Habit = { sucks: [14, 24], pauseSec: [2, 3.5] };
/** 5 to 8 sucks, then a pause: common practice, no source. */
const SETTLED: Habit = { sucks: [5, 8], pauseSec: [3, 8] };
const ONE_BURST_IN_12_SEC: Habit = { sucks: [6, 6], pauseSec: [6, 6] };

/** Burps of 20 to 45 s every few minutes. */
function burpsBetween(fromSec: number, toSec: number, draws: Draws): Away[] {
  const away: Away[] = [];
  let atSec = fromSec + draws.uniform(120, 240);
  while (atSec < toSec - 60) {
    away.push({ fromSec: atSec, toSec: atSec + draws.uniform(20, 45), tiltDeg: 30 });
    atSec += draws.uniform(150, 300);
  }
  return away;
}

const outside = (sucks: Suck[], spans: readonly { fromSec: number; toSec: number }[]): Suck[] =>
  sucks.filter((suck) => !spans.some((span) => suck.atSec + 0.6 > span.fromSec && suck.atSec < span.toSec));

/** A counter that misses up to 40 % of the sucks and invents up to 6 a minute. */
const poorCounter = (seed: number, draws: Draws) => ({
  missedShare: draws.uniform(0, 0.4),
  inventedPerMin: draws.uniform(0, 6),
  random: seededRandom(seed + 10_000),
});

/** Eager for up to 4 min, then settled to the end; distracted for up to a minute now and then. */
function steadyFeed(seed: number): FeedPlan {
  const draws = seededDraws(seed);
  const eagerSec = draws.uniform(0, 240);
  const endSec = draws.uniform(900, 1500);
  const away = burpsBetween(0, endSec, draws);
  const lulls: { fromSec: number; toSec: number }[] = [];
  for (let atSec = draws.uniform(150, 400); atSec < endSec - 120; atSec += draws.uniform(200, 400)) {
    lulls.push({ fromSec: atSec, toSec: atSec + draws.uniform(20, 60) });
  }
  const all = [...habitSucks(0, eagerSec, EAGER, draws), ...habitSucks(eagerSec, endSec, SETTLED, draws)];
  return { sucks: outside(all, [...away, ...lulls]), endSec, away, counter: poorCounter(seed, draws) };
}

/** Sucking fades within 1 to 4 min, from minute 6 to 15; the nipple stays offered for 4 min more. */
function fadingFeed(seed: number): FeedPlan & { fadeFromSec: number; fadedSec: number } {
  const draws = seededDraws(seed);
  const fadeFromSec = draws.uniform(360, 900);
  const fadedSec = fadeFromSec + draws.uniform(60, 240);
  const away = burpsBetween(0, fadeFromSec, draws);
  const drive = (atSec: number) =>
    atSec < fadeFromSec ? 1 : 1 - (atSec - fadeFromSec) / (fadedSec - fadeFromSec);
  const all = [...habitSucks(0, 120, EAGER, draws), ...habitSucks(120, fadedSec, SETTLED, draws, drive)];
  const endSec = fadedSec + 240;
  return {
    sucks: outside(all, away),
    endSec,
    away,
    counter: poorCounter(seed, draws),
    fadeFromSec,
    fadedSec,
  };
}

describe('"has baby had enough?" on drawn feeds, with a counter that misses and invents sucks', () => {
  it('comes in at least 9 of 10 feeds that fade, not before and within 2½ min after', () => {
    let found = 0;
    for (const seed of seeds(30)) {
      const feed = fadingFeed(seed);
      const cues = stops(feed);
      expect(cues.length).toBeLessThanOrEqual(1);
      if (cues.length === 0) continue;
      expect(cues[0]!.atSec).toBeGreaterThan(feed.fadeFromSec);
      if (cues[0]!.atSec <= feed.fadedSec + 150) found += 1;
    }
    expect(found).toBeGreaterThanOrEqual(27);
  });

  it('comes in no feed with steady sucking', () => {
    for (const seed of seeds(30)) expect(stops(steadyFeed(seed)), `seed ${seed}`).toEqual([]);
  });
});

describe('"has baby had enough?" in feeds made by hand', () => {
  const draws = () => seededDraws(1);
  /** 10 minutes of a burst of six each 12 s. */
  const tenMinutes = habitSucks(0, 600, ONE_BURST_IN_12_SEC, draws());

  it('says in sucks why it came, and names no amount', () => {
    const cues = stops({ sucks: tenMinutes, endSec: 900 });
    expect(cues).toHaveLength(1);
    // 2½ min under 40 % of the rhythm: 90 s without a suck. A single lull counts from 2 min on, at the end of a bin.
    expect(cues[0]!.atSec).toBeGreaterThanOrEqual(720);
    expect(cues[0]!.atSec).toBeLessThanOrEqual(731);
    expect(becauseText(cues[0]!.because, 'en')).toMatch(
      /^\d+ sucks in the last 2 min 30 s of nipple offered; before, about \d\d a minute\.$/,
    );
    expect(becauseText(cues[0]!.because, 'en')).not.toMatch(/oz|mL/);
  });

  it('never comes for one pause of under 2 minutes between good sucking', () => {
    for (const lullSec of [30, 60, 90, 110]) {
      const after = habitSucks(600 + lullSec, 1000, ONE_BURST_IN_12_SEC, draws());
      expect(stops({ sucks: [...tenMinutes, ...after], endSec: 1000 }), `${lullSec} s`).toEqual([]);
    }
  });

  it('does not count time with the nipple out or the bottle raised', () => {
    const away = [{ fromSec: 603, toSec: 1000, tiltDeg: 30 }];
    expect(stops({ sucks: tenMinutes, endSec: 1000, away })).toEqual([]);
    const raised = Array.from(inputsOf({ sucks: tenMinutes, endSec: 1000 }), (input) => ({
      ...input,
      tiltDeg: input.atSec > 603 ? 40 : 90,
    }));
    expect(pace(raised).cues.filter((cue) => cue.kind === 'offer-stop')).toEqual([]);
  });

  it('does not come in the first 6½ minutes', () => {
    const sucks = habitSucks(0, 120, ONE_BURST_IN_12_SEC, draws());
    expect(stops({ sucks, endSec: 389 })).toEqual([]);
  });

  it('does not come when nothing was ever taken, nor when no suck was ever seen', () => {
    const dry = tenMinutes.map((suck) => ({ ...suck, ml: 0 }));
    expect(stops({ sucks: dry, endSec: 1200 })).toEqual([]);
    const blind = { missedShare: 1, inventedPerMin: 0, random: seededRandom(1) };
    expect(stops({ sucks: tenMinutes, endSec: 1200, counter: blind })).toEqual([]);
  });

  it('does not come when the counter goes blind while milk still flows', () => {
    const sucks = habitSucks(0, 1200, ONE_BURST_IN_12_SEC, draws());
    const random = seededRandom(2);
    let seen = 0;
    const counter = {
      missedShare: 0.5,
      inventedPerMin: 0,
      random: () => (seen++ < 300 ? 1 : random() * 0.2),
    };
    expect(stops({ sucks, endSec: 1200, counter })).toEqual([]);
  });

  it('does not come when baby works hard and little comes: sucks are steady', () => {
    const dry = habitSucks(600, 1000, ONE_BURST_IN_12_SEC, draws()).map((suck) => ({ ...suck, ml: 0.005 }));
    expect(stops({ sucks: [...tenMinutes, ...dry], endSec: 1000 })).toEqual([]);
  });

  it('does not come when sucking has slowed to somewhat under half and goes on like that', () => {
    // 3 sucks in 13 s for 6 in 12 s: 46 % of the sucks, and of the milk.
    const slower = Array.from({ length: 80 }, (_, index) =>
      steadySucks(10, 600 + index * 13, 602.5 + index * 13),
    );
    expect(stops({ sucks: [...tenMinutes, ...slower.flat()], endSec: 1600 })).toEqual([]);
    // With a quarter of the milk as well the cue comes: both sucks and milk have faded.
    const fainter = slower.flat().map((suck) => ({ ...suck, ml: suck.ml / 2 }));
    expect(stops({ sucks: [...tenMinutes, ...fainter], endSec: 1600 })).toHaveLength(1);
  });

  it('does not come when hardly anything was taken', () => {
    const sips = tenMinutes.map((suck) => ({ ...suck, ml: 0.015 }));
    expect(stops({ sucks: sips, endSec: 1200 })).toEqual([]);
  });

  it('takes back a change of arms that waits', () => {
    const faint = Array.from({ length: 20 }, (_, index) => ({
      atSec: 610 + index * 15,
      lastsSec: 0.6,
      ml: 0.2,
    }));
    const plan = { sucks: [...tenMinutes, ...faint], endSec: 900 };
    const stopSec = stops(plan)[0]!.atSec;
    const taken = plan.sucks
      .filter((suck) => suck.atSec < stopSec - 20)
      .reduce((sum, suck) => sum + suck.ml, 0);
    const { cues, shown } = pace(inputsOf(plan), 2 * taken);
    const switched = cues.find((cue) => cue.kind === 'switch-side')!;
    expect(switched.atSec).toBeGreaterThan(stopSec - 30);
    expect(switched.atSec).toBeLessThan(stopSec);
    const after = shown.filter((one) => one.fromSec > switched.atSec).map((one) => one.kind);
    expect(after).toContain('offer-stop');
    expect(after).not.toContain('switch-side');
  });

  it('comes once, and again only after sucking was back', () => {
    expect(stops({ sucks: tenMinutes, endSec: 1800 })).toHaveLength(1);
    const back = habitSucks(800, 1100, ONE_BURST_IN_12_SEC, draws());
    expect(stops({ sucks: [...tenMinutes, ...back], endSec: 1500 })).toHaveLength(2);
  });

  it('ends when baby sucks again, or the nipple is taken out', () => {
    const again = steadySucks(6, 740, 800);
    const resumed = pace(inputsOf({ sucks: [...tenMinutes, ...again], endSec: 800 })).shown;
    const since = resumed.findIndex((one) => one.kind === 'offer-stop');
    expect(resumed[since + 1]!.fromSec).toBeCloseTo(749, 0);
    const away = [{ fromSec: 745, toSec: 800, tiltDeg: 80 }];
    const out = pace(inputsOf({ sucks: tenMinutes, endSec: 800, away })).shown;
    expect(out.at(-1)).toMatchObject({ kind: null });
    expect(out.at(-1)!.fromSec).toBeCloseTo(745, 0);
  });
});
