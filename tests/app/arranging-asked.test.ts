/** What a shift leader arranges in a terminal, and what is said of it. */
import { describe, expect, it } from 'vitest';
import {
  arrangingHere,
  arriveAsAsked,
  consentAsAsked,
  isTrailAsMarked,
  labelsAsAsked,
  leaveAsAsked,
  lookedAtTrail,
  nextAsAsked,
} from '../../src/app/ward/arranging-asked.ts';
import { seededRandom } from '../support/random.ts';
import { codeOf } from '../support/refusals.ts';
import { NOON, wardHouse } from '../support/ward-house.ts';

function house() {
  const all = wardHouse();
  const draw = seededRandom(3);
  const random = (below: number) => Math.floor(below * draw());
  const ward = { ...arrangingHere(all.store), nowMs: () => NOON, random };
  return { ...all, ward };
}

describe('arranging in a terminal', () => {
  it('moves a child to another cot and out of the house, in the name of this computer', () => {
    const { ward, trail } = house();
    expect(arriveAsAsked(ward, { child: 'Ilo', cot: ' B4 ' })).toMatch(
      /^Ilo is in cot B4\. A label: ebbline/,
    );
    expect(codeOf(() => arriveAsAsked(ward, { child: 'Uma', cot: 'B4' }))).toBe('cot-taken');
    expect(leaveAsAsked(ward, { child: 'Ilo' })).toContain('Ilo has left');
    expect(codeOf(() => leaveAsAsked(ward, { child: 'Ilo' }))).toBe('child-not-here');
    expect(trail().map(({ act, person, role }) => [act, person, role])).toEqual([
      ['arrived', 'this computer', 'computer'],
      ['left', 'this computer', 'computer'],
    ]);
  });

  it('sets the nipple of the next feeds; false takes it back, and what is not named stays', () => {
    const { ward, store, first } = house();
    const next = () => store.ward(({ records }) => records.nextFeeds()[first]);
    expect(nextAsAsked(ward, { child: 'Ilo', nipple: 'Blue ring' })).toEqual([
      'From the next feed on, Ilo is fed so.',
      false,
    ]);
    nextAsAsked(ward, { child: 'Ilo' });
    expect(next()).toMatchObject({ teat: 'Blue ring' });
    nextAsAsked(ward, { child: 'Ilo', nipple: false });
    expect(next()?.teat ?? null).toBeNull();
    expect(codeOf(() => nextAsAsked(ward, { child: 'Ilo', study: 'pace-1' }))).toBe('ward-participant');
    expect(codeOf(() => nextAsAsked(ward, { child: 'Ilo', participant: 'F01' }))).toBe('ward-participant');
  });

  it('allows research until a day or until it is taken back, and says when there was nothing to take back', () => {
    const { ward, store } = house();
    const asked = { child: 'Ilo', what: 'research' } as const;
    expect(consentAsAsked(ward, { ...asked, end: true })).toBe('There was none to take back.');
    expect(consentAsAsked(ward, { ...asked, day: '2026-06-09' })).toBe('Allowed until 2026-06-09.');
    expect(store.ward(({ records }) => records.consents()[0]!.untilMs)).toBe(Date.UTC(2026, 5, 9));
    expect(consentAsAsked(ward, { ...asked, end: true })).toBe('Taken back, from now on.');
    expect(consentAsAsked(ward, asked)).toBe('Allowed until it is taken back.');
    expect(codeOf(() => consentAsAsked(ward, { child: 'Ilo', what: 'parent' }))).toBe('consent-whose');
  });

  it('prints labels as a PDF, and asks what for when nothing is named', async () => {
    const { ward } = house();
    const usual = { bottles: 2.4, paper: 'a4', language: 'en' } as const;
    const pdf = await labelsAsAsked(ward, usual);
    expect(Buffer.from(pdf).subarray(0, 5).toString()).toBe('%PDF-');
    expect(codeOf(() => labelsAsAsked(ward, { ...usual, bottles: 0 }))).toBe('labels-none');
  });

  it('shows the audit trail, and holds a mark against it', () => {
    const { store, trail } = house();
    expect(lookedAtTrail(store)).toEqual({ lines: [], broken: null });
    expect(trail().map(({ act }) => act)).toEqual(['looked-at-trail']);
    const mark = store.ward((ward) => ward.trail.mark());
    expect([mark, 'none'].map((one) => isTrailAsMarked(store, one!))).toEqual([true, false]);
  });
});
