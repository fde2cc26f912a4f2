import { describe, expect, it } from 'vitest';
import { BURST_GAP_SEC, suckRuns } from '../../src/base/suck-runs.ts';

describe('runs of sucks', () => {
  it('end where the next suck is as far away as the gap, or further', () => {
    expect(suckRuns([1, 2, 3.4, 5.9, 6.7, 12])).toEqual([
      { fromSec: 1, toSec: 3.4, sucks: 3 },
      { fromSec: 5.9, toSec: 6.7, sucks: 2 },
      { fromSec: 12, toSec: 12, sucks: 1 },
    ]);
    expect(suckRuns([0, BURST_GAP_SEC])).toHaveLength(2);
    expect(suckRuns([0, BURST_GAP_SEC - 0.01])).toHaveLength(1);
  });

  it('are measured from the last suck of the run, with a gap of one’s own', () => {
    expect(suckRuns([0, 0.9, 1.8, 3], 1)).toEqual([
      { fromSec: 0, toSec: 1.8, sucks: 3 },
      { fromSec: 3, toSec: 3, sucks: 1 },
    ]);
  });

  it('are none without a suck', () => {
    expect(suckRuns([])).toEqual([]);
  });
});
