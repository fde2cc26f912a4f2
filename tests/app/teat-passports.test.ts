/** Passports of nipples: kept by name, compared under the same conditions, said before a feed. */
import { describe, expect, it } from 'vitest';
import { passportText } from '../../src/app/teats/passport-text.ts';
import {
  guideWithTeats,
  keepPassport,
  newestPassports,
  passportsOf,
  runningTeats,
} from '../../src/app/teats/teat-passports.ts';
import { teatPassportsSchema } from '../../src/research/teat/passport-format.ts';
import { sideFilesIn } from '../../src/store/side-files.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';
import { nippleTrials } from '../support/passports.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const trials = (teat: string, volumesMl: number[], change: object = {}) =>
  nippleTrials(volumesMl, { teat, ...change });

describe('the passport of a nipple', () => {
  it('is kept under its name however that is written, the newest last', () => {
    const data = sideFilesIn(temporaryFolder());
    keepPassport(data, trials('Blue ring', [9, 10, 11]));
    keepPassport(data, trials(' blue RING', [12, 13, 14]));
    keepPassport(data, trials('No ring', [2, 2, 2.2]));
    expect(passportsOf(data, 'BLUE ring').map(({ flowMlPerMin }) => flowMlPerMin)).toEqual([10, 13]);
    expect(newestPassports(data).map(({ teat }) => teat)).toEqual(['blue RING', 'No ring']);
    // The stored files are in the open format.
    const nipples = data.within('nipples');
    const files = nipples.names().map((name) => JSON.parse(nipples.read(name)!.toString()));
    expect(files.map((one) => teatPassportsSchema.parse(one).length).toSorted()).toEqual([1, 2]);
  });

  it('says of one that gave nothing before that it did', () => {
    const data = sideFilesIn(temporaryFolder());
    keepPassport(data, trials('Blocked', [0, 0, 0]));
    const [, , , wear] = passportText(keepPassport(data, trials('Blocked', [10, 10.2, 9.8])));
    expect(wear).toBe('Nothing ran out when it was last measured so: it has changed; look at its hole.');
  });

  it('tells wear since the last one under the same conditions, whatever was measured between', () => {
    const data = sideFilesIn(temporaryFolder());
    keepPassport(data, trials('Blue ring', [10, 10.2, 9.8]));
    expect(keepPassport(data, trials('Blue ring', [40, 41, 42], { suction: { mmHg: 150 } })).wear).toBeNull();
    const { wear } = keepPassport(data, trials('Blue ring', [13, 13.1, 12.9]));
    expect(wear).toMatchObject({ isClear: true });
    expect(wear!.ratio).toBeCloseTo(1.3, 6);
  });

  it('is not kept where the trials cannot be right', () => {
    const data = sideFilesIn(temporaryFolder());
    expect(() => keepPassport(data, trials('Blue ring', [10, 11]))).toThrow('at least three trials');
    expect(newestPassports(data)).toEqual([]);
  });

  it('is said before a feed where the nipple gives more by itself than the pace lets through, and only then', () => {
    const data = sideFilesIn(temporaryFolder());
    // The pace profile allows 8 mL/min for any length of time.
    keepPassport(data, trials('Fast', [12, 12.5, 13]));
    keepPassport(data, trials('Slow', [2, 2, 2.2]));
    keepPassport(data, trials('Uncertain', [1, 7, 12]));
    keepPassport(data, trials('Pumped', [40, 41, 42], { suction: { mmHg: 150 } }));
    const guide = guideWithTeats(() => ({ ran: null, notices: [], severalBabies: false }), data);
    const noticesWith = (teatName: string | null) => guide({ ...EMPTY_SETUP, teatName }).notices;
    expect(noticesWith('fast')).toEqual(['nipple-runs-by-itself']);
    for (const other of ['Slow', 'Uncertain', 'Pumped', 'Never measured', null])
      expect([other, noticesWith(other)]).toEqual([other, []]);
    // A plan warns of the same nipples; later measurements under suction do not change that.
    keepPassport(data, trials('Fast', [40, 41, 42], { suction: { mmHg: 150 } }));
    expect(runningTeats(data)).toEqual(['Fast']);
    expect(runningTeats(sideFilesIn(temporaryFolder()))).toEqual([]);
  });
});
