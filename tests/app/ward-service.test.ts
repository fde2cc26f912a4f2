import { describe, expect, it } from 'vitest';
import { ANA, CODES, NOON, wardHouse } from '../support/ward-house.ts';

const FORMULA = { ml: 90, from: null, kind: 'formula' } as const;
const HOUR_MS = 3_600_000;

describe('a bottle for a child', () => {
  it('is filled, bound in one step, and stands in the milk ledger and the trail', () => {
    const house = wardHouse();
    const { useByMs } = house.service.fill({ bottle: CODES.bottle, child: CODES.first, ...FORMULA }, ANA);
    // Made formula: used within two hours of making (CDC; planning/milk/published-times.ts).
    expect(useByMs).toBe(NOON + 2 * HOUR_MS);
    const answer = house.service.bind([CODES.bottle, CODES.first, CODES.sleeve], ANA);
    expect(answer).toEqual({ state: 'bound', cot: 'A1', sleeve: 7, useByMs });
    expect(house.store.ward(({ records }) => records.bindings())).toMatchObject([
      { babyId: house.first, sleeve: 7, by: 'p-ana', bottle: CODES.bottle },
    ]);
    expect(house.trail().map(({ act, babyId, person }) => [act, babyId, person])).toEqual([
      ['filled', house.first, 'p-ana'],
      ['bound', house.first, 'p-ana'],
    ]);
    expect(house.store.readMilkEvents()).toMatchObject([{ babyId: house.first, kind: 'got' }]);
  });

  it('is stopped where the bottle is another child’s, before any sleeve is scanned; the board and the trail say so', () => {
    const house = wardHouse();
    house.service.fill({ bottle: CODES.bottle, child: CODES.first, ...FORMULA }, ANA);
    expect(house.service.bind([CODES.second, CODES.bottle], ANA)).toMatchObject({ stop: 'wrong-child' });
    expect(house.stopped).toEqual([{ cot: 'A2', sleeve: null, code: 'wrong-child' }]);
    expect(house.trail().at(-1)).toMatchObject({ act: 'stopped', babyId: house.second, more: 'wrong-child' });
    expect(house.service.bind([CODES.second, CODES.bottle, CODES.sleeve], ANA)).toMatchObject({
      state: 'stop',
    });
    expect(house.store.ward(({ records }) => records.bindings())).toEqual([]);
  });

  it('is stopped once its milk’s time has passed, to the millisecond', () => {
    const house = wardHouse();
    house.service.fill({ bottle: CODES.bottle, child: CODES.first, ...FORMULA }, ANA);
    house.later(2 * HOUR_MS - 1);
    expect(house.service.bind([CODES.bottle], ANA)).toMatchObject({ state: 'more' });
    house.later(1);
    expect(house.service.bind([CODES.bottle], ANA)).toMatchObject({ stop: 'milk-past' });
  });

  it('is stopped for a child who has left, and on a sleeve that feeds or is bound', () => {
    const house = wardHouse();
    for (const [bottle, child] of [
      [CODES.bottle, CODES.first],
      [CODES.other, CODES.second],
    ])
      house.service.fill({ bottle, child, ...FORMULA }, ANA);
    house.feeding.add(7);
    expect(house.service.bind([CODES.first, CODES.bottle, CODES.sleeve], ANA)).toMatchObject({
      stop: 'sleeve-feeding',
    });
    house.feeding.clear();
    house.service.bind([CODES.first, CODES.bottle, CODES.sleeve], ANA);
    expect(house.service.bind([CODES.second, CODES.other, CODES.sleeve], ANA)).toMatchObject({
      stop: 'sleeve-bound',
    });
    house.service.release(CODES.sleeve, ANA);
    expect(house.service.bind([CODES.second, CODES.other, CODES.sleeve], ANA)).toMatchObject({
      state: 'bound',
    });
    house.store.ward(({ records }) => records.endStay(house.first, NOON));
    expect(house.service.bind([CODES.first], ANA)).toMatchObject({ stop: 'child-left' });
  });

  it('is not filled with another child’s milk, nor while it is bound', () => {
    const house = wardHouse();
    house.store.appendMilkEvents([
      {
        atMs: NOON,
        babyId: house.second,
        container: '12',
        kind: 'got',
        entry: { what: 'got', atMs: NOON, id: '12', kind: 'expressed', ml: 120, place: 'fridge' },
      },
    ]);
    const pour = (child: string) => () =>
      house.service.fill({ bottle: CODES.bottle, child, ml: 80, from: '12', kind: null }, ANA);
    expect(pour(CODES.first)).toThrow(/another child/);
    expect(pour(CODES.second)().useByMs).toBeGreaterThan(NOON);
    house.service.bind([CODES.second, CODES.bottle, CODES.sleeve], ANA);
    expect(pour(CODES.second)).toThrow(/bound for a feed/);
    expect(() => house.service.fill({ bottle: CODES.sleeve, child: CODES.first, ...FORMULA }, ANA)).toThrow(
      /not the label of a bottle/,
    );
    expect(() =>
      house.service.fill({ bottle: CODES.other, child: CODES.first, ...FORMULA, ml: -1 }, ANA),
    ).toThrow(/ml/);
  });
});

describe('for the next shift', () => {
  const withFeed = () => {
    const house = wardHouse();
    house.store.addHandFeed({
      kind: 'bottle',
      atMs: NOON - HOUR_MS / 2,
      durationSec: 900,
      babyId: house.first,
      babyName: 'Ilo',
      milkKind: 'expressed',
      offeredMl: 100,
      leftMl: 40,
      note: 'sleepy at the end',
      caregiver: 'Rosa',
      side: null,
    });
    return house;
  };

  it('says what was taken, left over and until when, who fed, what was noted; each look stands in the trail', () => {
    const house = withFeed();
    const answer = house.service.handover({ fromMs: NOON - 8 * HOUR_MS, toMs: NOON }, ANA);
    expect(answer.children.map(({ cot, name }) => [cot, name])).toEqual([
      ['A1', 'Ilo'],
      ['A2', 'Uma'],
    ]);
    expect(answer.children[0]!.feeds).toMatchObject([
      { takenMl: 60, leftMl: 40, fedBy: 'Rosa', note: 'sleepy at the end' },
    ]);
    // Once a baby drank from it: one hour from the feed's begin (NHS, the shorter of the two that are published).
    expect(answer.children[0]!.feeds[0]!.leftUntilMs).toBe(NOON + HOUR_MS / 2);
    expect(house.trail().map(({ act, babyId }) => [act, babyId])).toEqual([
      ['looked-at-feeds', house.first],
      ['looked-at-feeds', house.second],
    ]);
  });

  it('shows a parent the own child alone, while the consent lasts, and writes down that she looked', () => {
    const house = withFeed();
    const own = () => house.service.ownChildren('p-mother', { person: 'p-mother', role: 'parent' });
    expect(own().children).toEqual([]);
    house.store.ward(({ records }) =>
      records.addConsent({
        babyId: house.first,
        what: 'parent',
        person: 'p-mother',
        fromMs: NOON,
        untilMs: NOON + HOUR_MS,
        givenTo: 'p-lead',
      }),
    );
    expect(own().children.map(({ name }) => name)).toEqual(['Ilo']);
    expect(house.trail().at(-1)).toMatchObject({
      person: 'p-mother',
      role: 'parent',
      act: 'looked-at-feeds',
      babyId: house.first,
    });
    house.later(HOUR_MS);
    expect(own().children).toEqual([]);
  });

  it.each(['en', 'es'] as const)('is a page and a PDF (%s)', async (language) => {
    const { service } = withFeed();
    const asked = { fromMs: NOON - 8 * HOUR_MS, toMs: NOON, language };
    const page = await service.handoverPaper({ ...asked, ending: 'html' }, ANA);
    expect(page).toContain('Ilo');
    expect(page).toContain('2 fl oz (60 mL)');
    expect(page).toContain(language === 'es' ? 'Para el turno siguiente' : 'For the next shift');
    const pdf = await service.handoverPaper({ ...asked, ending: 'pdf' }, ANA);
    expect(
      Buffer.from(pdf as Uint8Array)
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');
  });

  it('forgets a child with all that hangs on it, but not who looked', () => {
    const house = withFeed();
    house.service.fill({ bottle: CODES.bottle, child: CODES.first, ...FORMULA }, ANA);
    house.service.handover({ fromMs: 0, toMs: NOON }, ANA);
    house.store.forget(house.first);
    const left = house.store.ward(({ records }) => [records.stays(), records.labels(), records.fillings()]);
    expect(JSON.stringify(left)).not.toContain(house.first);
    expect(house.trail().filter(({ babyId }) => babyId === house.first)).toHaveLength(2);
    expect(JSON.stringify(house.trail())).not.toContain('Ilo');
  });
});
