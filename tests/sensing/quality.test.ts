/** The sensor's stated quality when its figures are poor, on simulated feeds that are hard to measure. */
import { describe, expect, it } from 'vitest';
import type { QualityReason, SensedMoment } from '../../src/sensing/index.ts';
import type { Overrides } from '../../src/simulation/parameters.ts';
import { HARDSHIPS } from '../support/hardships.ts';
import { judge } from '../support/judge.ts';
import { type SensedFeed, sensedFeed } from '../support/sensed-feed.ts';

const steep = (overrides: Overrides = {}): SensedFeed =>
  sensedFeed({ scenario: 'tipped-up', seed: 3, longestSec: 150, overrides });

const doubted = (moments: readonly SensedMoment[], reason: QualityReason): number => {
  const judged = moments.filter(({ atSec, teatInMouth }) => atSec > 30 && teatInMouth);
  return judged.filter((one) => one.quality !== 'good' && one.reason === reason).length / judged.length;
};

describe('a hand that leans on the bottle', () => {
  const leant = steep(HARDSHIPS['leaning hand']);

  it('is reported most of the time, and never without one', () => {
    expect(doubted(leant.moments, 'push')).toBeGreaterThan(0.6);
    expect(doubted(steep().moments, 'push')).toBe(0);
  });

  it('moves the flow by a few mL/min, not by tens', () => {
    // Without a state for it the error would be some 50 mL/min rms.
    expect(judge(leant.moments, leant.truth).flowRmsMlPerMin).toBeLessThan(8);
  });
});

describe('a cell that goes on saying the same', () => {
  const stuck = steep({ chip: { faults: [{ what: 'frontCellStuck', fromSec: 60, toSec: 120 }] } });

  it('is detected without a flag within a second, and trusted again when it moves', () => {
    const at = (fromSec: number, toSec: number) =>
      new Set(
        stuck.moments
          .filter(({ atSec }) => atSec >= fromSec && atSec < toSec)
          .map(({ quality, reason }) => `${quality} ${reason}`),
      );
    // Before the fault: milk pours, and the baby has drunk for less than two minutes.
    expect(at(50, 59.9)).toEqual(new Set(['degraded sucks']));
    expect(at(61, 119.9)).toEqual(new Set(['degraded cell']));
    expect(at(125, 130).has('degraded cell')).toBe(false);
  });

  it('costs no more than one that is flagged', () => {
    const flagged = steep({ chip: { faults: [{ what: 'frontCellFault', fromSec: 60, toSec: 120 }] } });
    const flow = (feed: SensedFeed) => judge(feed.moments, feed.truth).flowRmsMlPerMin;
    expect(flow(stuck)).toBeLessThan(flow(flagged) + 1);
  });
});

it('says that a steep hold is rolled too far, though the cells still feel most of the weight', () => {
  const { moments } = steep({ hand: { rollDeg: 60, rollWanderDeg: 0.5 } });
  expect(doubted(moments, 'roll')).toBeGreaterThan(0.95);
});
