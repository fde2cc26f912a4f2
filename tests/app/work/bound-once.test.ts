/** A baby's pace never guides another baby, even if the store still has an old binding. */
import { describe, expect, it } from 'vitest';
import { unlessUsed, usedBefore } from '../../../src/app/work/bound-once.ts';
import type { SleeveBinding } from '../../../src/app/work/storing/store-ops.ts';
import { EMPTY_SETUP } from '../../support/fake-live.ts';

const nobody = { notices: ['not-screened'] };
const bound = (no: number | null) =>
  ({
    setup: { ...EMPTY_SETUP, babyId: no === null ? null : `b-${no}` },
    guided: no === null ? nobody : { notices: [] },
    nobody,
    bound: no,
  }) as unknown as SleeveBinding;

describe('what labels bound', () => {
  it('is for one feed: afterwards the next one is nobody’s, and held back as such', () => {
    const after = unlessUsed(bound(7), 7);
    expect(after).toMatchObject({ setup: EMPTY_SETUP, guided: nobody, bound: 7 });
    expect(unlessUsed(after, 7)).toEqual(after);
  });

  it('stands before its feed, and labels scanned anew stand again', () => {
    for (const used of [null, 6]) expect(unlessUsed(bound(7), used)).toEqual(bound(7));
    expect(unlessUsed(bound(null), null)).toEqual(bound(null));
  });

  it('is used up for the next guide too: in its feed, and after it', () => {
    const checkpoint = (binding: SleeveBinding, feed: object | null) =>
      ({ binding, from: null, feed }) as never;
    expect(usedBefore(checkpoint(bound(7), {}))).toBe(7);
    expect(usedBefore(checkpoint(unlessUsed(bound(7), 7), null))).toBe(7);
    expect(usedBefore(checkpoint(bound(7), null))).toBeNull();
    expect(usedBefore(null)).toBeNull();
  });
});
