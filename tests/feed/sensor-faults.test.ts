/** A sensor that does not fit is shown on the page during the feed, and stored with it for the page after the feed. */
import { describe, expect, it } from 'vitest';
import { replay } from '../../src/feed/replay.ts';
import { parseCalibration, type SensorFault } from '../../src/sensing/index.ts';
import { checkCounts, checkLoneMotion, createTurnCheck } from '../../src/sensing/loads/turn-check.ts';
import { SimulatedSleeve } from '../../src/simulation/sleeve-model.ts';
import { MOTION_FAULTS } from '../support/hardships.ts';
import { liveRun } from '../support/live-run.ts';
import { keptBytes, keptEvents } from '../support/memory-storage.ts';

describe('a sensor that does not fit', () => {
  it.each<[keyof typeof MOTION_FAULTS, SensorFault]>([
    ['gyroscope stuck', 'gyroscope-stuck'],
    ['motion without its sample', 'motion-alone'],
  ])('%s: said in the feed, which goes on, and kept with it', async (name, fault) => {
    const sleeve = new SimulatedSleeve({
      feed: { scenario: 'paced', seed: 13, overrides: MOTION_FAULTS[name] },
    });
    const calibration = parseCalibration(sleeve.feed.calibration, 'of the test');
    const live = await liveRun(sleeve, { calibration });
    await live.run(38);
    expect(live.view.feedState).toBe('open');
    expect(live.view.sensorFaults ?? []).toEqual([]);
    await live.run(22);
    expect(live.view).toMatchObject({ feedState: 'open', notices: ['check-sleeve'], sensorFaults: [fault] });
    expect(live.view.showing).not.toBe('no-guidance');
    const kept = keptEvents(live.storage.only).filter(({ kind }) => kind === 'sensor-fault');
    expect(kept).toMatchObject([{ fault }]);
    const { result } = replay([keptBytes(live.storage.only)], {
      calibration,
      portionMl: null,
      refinable: false,
    });
    expect(result.events.flatMap((event) => (event.kind === 'sensor-fault' ? [event.fault] : []))).toEqual([
      fault,
    ]);
  });
});

describe('turnings without their samples', () => {
  /** @returns the sample, counted from 1, at which it is told; null: never in ten minutes */
  const toldAt = (loses: (sample: number) => boolean): number | null => {
    const check = createTurnCheck();
    for (let sample = 1; sample <= 48_000; sample++) {
      const fault = loses(sample)
        ? checkLoneMotion(check)
        : checkCounts(check, [sample % 7, sample % 5, sample % 3]);
      if (fault === 'motion-alone') return sample;
    }
    return null;
  };

  it('are told of within a second if none has one, and in half a minute if one in ten has none', () => {
    expect(toldAt(() => true)).toBe(20);
    expect(toldAt((sample) => sample % 10 === 0)).toBeLessThan(30 * 80);
  });

  it('are not what a radio loses: 2 % evenly, or ten in a row each ten seconds', () => {
    expect(toldAt((sample) => sample % 50 === 0)).toBeNull();
    expect(toldAt((sample) => sample % 800 < 10)).toBeNull();
  });
});
