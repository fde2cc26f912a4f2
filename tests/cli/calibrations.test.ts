/** Kept calibrations: by sleeve and bottle, with what was found and learned since; undoing it. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { calibrationOfBottle } from '../../src/app/sleeve/sleeve-calibration.ts';
import {
  type CalibrationHistory,
  historiesFrom,
  historyOf,
  learnedCalibration,
} from '../../src/calibration/walk/history.ts';
import { runs } from '../../src/cli/sleeve/runs.ts';
import { openStore } from '../../src/store/open-store.ts';
import { exampleCalibration } from '../support/calibrations.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const named = (name: string, calibratedAt: string) => {
  const calibration = exampleCalibration();
  return { ...calibration, calibratedAt, bottle: { ...calibration.bottle, name } };
};
const BLUE = named('blue', '2026-01-05T09:00:00Z');
const GREEN = named('green', '2026-01-08T09:00:00Z');
const lesson = (feedId: string) => ({
  learnedAt: '2026-01-09T10:00:00Z',
  feedId,
  change: { baseShiftMm: 0.3, neckShiftMm: -0.1 },
  emptyMassGrams: 0,
});
const HISTORY: CalibrationHistory = {
  sleeveId: '4711',
  calibratedAt: BLUE.calibratedAt,
  bottleName: 'blue',
  checks: [
    {
      atMs: Date.UTC(2026, 0, 9),
      feedId: 'f1',
      inSleeve: 'bottle',
      verdict: 'again',
      finding: 'zero',
      reasons: ['The cells have moved by about 12 g since the calibration, or something touches the sleeve.'],
      zeroShiftGrams: 12,
    },
  ],
  corrections: [lesson('f1'), lesson('f2')],
  belief: null,
};

let folder = '';
let printed = '';
beforeEach(() => {
  folder = temporaryFolder();
  printed = '';
  vi.stubEnv('EBBLINE_DATA', folder);
  const write = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed += text;
    return true;
  });
  return () => {
    write.mockRestore();
    vi.unstubAllEnvs();
  };
});

function kept(history: CalibrationHistory[]): void {
  const store = openStore(folder, { recording: true });
  store.keepCalibration('4711', BLUE);
  store.keepCalibration('4711', GREEN);
  store.writeCalibrationHistories(history);
  store.close();
}
function historyNow(): CalibrationHistory {
  const store = openStore(folder);
  const history = historyOf(historiesFrom(store.readCalibrationHistories()), '4711', BLUE);
  store.close();
  return history;
}

describe('ebbline sleeve calibrations', () => {
  it('says where to begin when nothing is kept', async () => {
    await runs['sleeve calibrations']({});
    expect(printed).toMatch(/No calibration is kept yet.*ebbline sleeve calibrate/);
  });

  it('lists each bottle, the last check in words, and every lesson', async () => {
    kept([HISTORY]);
    await runs['sleeve calibrations']({});
    expect(printed).toMatch(/Sleeve 4711, blue\n {2}calibrated 2026-01-05/);
    expect(printed).toMatch(/checked at feeds 1×, last 2026-01-09: The cells have moved/);
    expect(printed).toMatch(/about 12.0 g since the calibration/);
    expect(printed).toMatch(/2 small corrections of the bottle \(base end \+0.60 mm, neck end −0.20 mm\)/);
    expect(printed).toMatch(/feed f2: base end \+0.30 mm/);
    expect(printed).toMatch(/Sleeve 4711, green\n {2}calibrated 2026-01-08\n {2}not checked at a feed yet/);
    printed = '';
    await runs['sleeve calibrations']({ json: true });
    expect(JSON.parse(printed)).toMatchObject([
      {
        sleeveId: '4711',
        calibration: { bottle: { name: 'blue' } },
        notes: { checks: [{ atMs: expect.any(Number) }] },
      },
      { calibration: { bottle: { name: 'green' } }, notes: { corrections: [] } },
    ]);
  });

  it('undoes the last lesson, then all, and says when there is none', async () => {
    kept([HISTORY]);
    await runs['sleeve calibrations']({ undo: '4711' });
    expect(historyNow().corrections.map(({ feedId }) => feedId)).toEqual(['f1']);
    await runs['sleeve calibrations']({ undo: '4711', all: true });
    expect(learnedCalibration(BLUE, historyNow()).calibration).toEqual(BLUE);
    expect(historyNow().checks).toHaveLength(1);
    await expect(runs['sleeve calibrations']({ undo: '4711' })).rejects.toThrow(/nothing to undo/);
  });

  it('asks which bottle when feeds have taught about two', async () => {
    kept([HISTORY, { ...HISTORY, calibratedAt: GREEN.calibratedAt, bottleName: 'green' }]);
    await expect(runs['sleeve calibrations']({ undo: '4711' })).rejects.toThrow(/2 bottles/);
    await runs['sleeve calibrations']({ undo: '4711', bottle: 'green' });
    expect(historyNow().corrections).toHaveLength(2);
  });
});

describe('a bottle named at the start', () => {
  const store = {
    calibrations: () =>
      [BLUE, GREEN, named('blue', '2026-01-10T09:00:00Z')].map((calibration) => ({
        sleeveId: '4711',
        calibration,
      })),
  };

  it('brings its latest calibration', () => {
    expect(calibrationOfBottle('4711', 'Blue', store).calibratedAt).toBe('2026-01-10T09:00:00Z');
    expect(calibrationOfBottle('4711', 'green', store).calibratedAt).toBe(GREEN.calibratedAt);
  });

  it('that is not known is refused, with those that are and the two-minute way', () => {
    expect(() => calibrationOfBottle('4711', 'red', store)).toThrow(
      expect.objectContaining({
        code: 'calibration-bottle-unknown',
        message: expect.stringContaining('only with: blue, green'),
        remedy: expect.stringContaining('--way two-minutes --sleeve-from'),
      }),
    );
    expect(() => calibrationOfBottle('1', 'blue', store)).toThrow(/no calibration|No calibration/);
  });
});
