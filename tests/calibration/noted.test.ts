import { describe, expect, it } from 'vitest';
import {
  bottleNameOf,
  cupOf,
  madeWithOf,
  nextCheckDueOf,
  profileFromOf,
} from '../../src/calibration/walk/noted.ts';
import { exampleCalibration } from '../support/calibrations.ts';

const bare = exampleCalibration();
const noted = {
  ...bare,
  nextCheckDue: '2027-05-01',
  madeWith: 'Ebbline 0.1.0',
  cup: { massGrams: 61.5, centreZMm: 70, other: 1 },
  bottle: { ...bare.bottle, name: 'blue', profileFrom: 'drawn outline' },
};

describe('what a calibration notes', () => {
  it('is read where it stands', () => {
    expect([nextCheckDueOf(noted), madeWithOf(noted)]).toEqual(['2027-05-01', 'Ebbline 0.1.0']);
    expect([bottleNameOf(noted), profileFromOf(noted)]).toEqual(['blue', 'drawn outline']);
    expect(cupOf(noted)).toEqual({ massGrams: 61.5, centreZMm: 70 });
  });

  it('is not known where it is of another kind', () => {
    const odd = {
      ...noted,
      nextCheckDue: 5,
      madeWith: null,
      cup: { massGrams: '61.5', centreZMm: 70 },
      bottle: { ...bare.bottle, name: 7 },
    };
    expect([nextCheckDueOf(odd), madeWithOf(odd), bottleNameOf(odd), profileFromOf(odd)]).toEqual([
      null,
      null,
      null,
      null,
    ]);
    for (const cup of [odd.cup, null, 'cup', { massGrams: 61.5 }]) expect(cupOf({ ...odd, cup })).toBeNull();
  });
});
