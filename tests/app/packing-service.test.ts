/** What the commands and the pages for packing say, from a store of invented feeds and a clock that stands still. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { amountOf, askedOf, type MilkOptions, type MilkStep } from '../../src/app/packing/milk-asked.ts';
import { milkText } from '../../src/app/packing/milk-text.ts';
import { packingService } from '../../src/app/packing/packing-service.ts';
import { babyOf, milkFrom } from '../../src/app/packing/plan-asked.ts';
import { daysText, planText } from '../../src/app/packing/plan-text.ts';
import { FieldError } from '../../src/base/errors.ts';
import { mlFromFlOz } from '../../src/base/units.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { DAY_MS, packingStore } from '../support/packing-store.ts';

const NOW = Date.parse('2026-05-12T18:00:00Z');
const AROUND = { nowMs: () => NOW, zone: 'UTC' };
const BIRTH = '2026-02-01';
const ASK = { baby: 'Wren', birthDay: BIRTH, day: '2026-05-13', from: '08:30', until: '17:30' };

let store: FeedStore;
beforeAll(() => {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-packing-'));
  store = packingStore(folder, NOW);
  return () => {
    store.close();
    rmSync(folder, { recursive: true });
  };
});
const LID = {
  id: 'A',
  kind: 'expressed',
  volumeMl: 90,
  expressedAtMs: NOW - DAY_MS,
  place: 'fridge',
  thawedAtMs: null,
  warmedAtMs: null,
  heldBack: false,
};
const service = () => packingService(store, AROUND);
const refusal = (act: () => unknown): FieldError => {
  try {
    act();
  } catch (error) {
    if (error instanceof FieldError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
};

describe('an evening without a day sheet', () => {
  it('teaches the next plan what was taken, from one touch for each bottle', () => {
    const folder = mkdtempSync(join(tmpdir(), 'ebbline-evening-'));
    let now = NOW;
    const own = openStore(folder, { recording: true, nowMs: () => now });
    onTestFinished(() => {
      own.close();
      rmSync(folder, { recursive: true });
    });
    const page = packingService(own, { nowMs: () => now, zone: 'UTC' });
    const milk = { what: 'got', atMs: NOW - 3_600_000, kind: 'expressed', ml: 150, place: 'fridge' };
    page.enterMilk({ entries: ['1', '2', '3'].map((id) => ({ ...milk, id })) });
    expect(page.plan(ASK)).toMatchObject({ bottleFeeds: 0, ownShare: 0 });
    page.enterMilk({ packed: { ...ASK, feeds: 3 } });
    now = Date.parse('2026-05-13T18:00:00Z');
    const [evening] = page.milk().evenings;
    const back = evening!.bottles.map(({ id }) => ({ what: 'came-back', atMs: now, id, how: 'emptied' }));
    page.enterMilk({ entries: back });
    const next = page.plan({ ...ASK, day: '2026-05-14' });
    expect(next).toMatchObject({ bottleFeeds: 3, bottleDays: 1, seen: { emptied: 1 } });
    expect(next.ownShare).toBeGreaterThan(0);
  });
});

describe('the plan, in words', () => {
  it('says range, bottles, spare, what is thrown away, how often short, beside plain plans, with every source', () => {
    const text = planText(service().plan(ASK), 'UTC');
    expect(text).toMatch(
      /^Wednesday, May 13, 2026, 8:30 AM to 5:30 PM: 9 hours, 3 feeds, as on most past days\./,
    );
    expect(text).toMatch(/42 bottle feeds on 14 days/);
    expect(text).toMatch(/Pack \d+ bottles[\s\S]*one for each feed[\s\S]*only if the baby still asks/);
    expect(text).toMatch(/Expected: .* thrown away; short on .* of 100 days/);
    expect(text).toMatch(/this plan [\s\S]*rule of thumb, \d[\s\S]*last week’s most, \d/);
    expect(text.match(/Source:/g)).toHaveLength(14);
    expect(text).toContain('Rios-Leyvraz and Yao 2023');
    expect(text).toContain('need not be finished');
    expect(text).not.toMatch(/overfe|\bsafe\b/);
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThan(125);
  });

  it('speaks of a new size only after four days of change', () => {
    const usual = planText(service().plan(ASK), 'UTC');
    // About 72 mL a day were taken from bottles of 3 fl oz, half an ounce less than usual, on each of four days.
    expect(usual).toMatch(/Bottles: {3}try 2½ fl oz \(74 mL\): on each of the last 4 days less was taken/);
    service().keepSettings({ usualBottleMl: mlFromFlOz(2.5) });
    expect(planText(service().plan(ASK), 'UTC')).toContain(
      'as usual; another size only after 4 days of change',
    );
    service().keepSettings({});
  });

  it('says chances in days of a hundred', () => {
    const said = [0.001, 0.05, 0.123].map(daysText);
    expect(said).toEqual(['less than 1 of 100 days', '5 of 100 days', '12 of 100 days']);
  });

  it('knows the babies, and asks which', () => {
    expect(service().start().babies).toEqual([{ id: null, name: 'Wren', birthDay: BIRTH }]);
    expect(babyOf(store, {}, NOW)).toEqual({ id: null, name: 'Wren', birthDay: BIRTH });
    expect(() => babyOf(store, { baby: 'Juno' }, NOW)).toThrow('birth date');
  });
});

describe('the milk list', () => {
  const enter = (step: MilkStep, options: MilkOptions = {}) =>
    service().enterMilk(askedOf(step, { kind: 'expressed', ...options }, AROUND, service().milk().nextLabel));

  it('says which published time passes when, with its source, and never that milk is safe', () => {
    expect(service().start().onHand).toBeNull();
    expect(milkText(service().milk(), 'UTC')).toContain('No milk is in the list.');
    enter('add', { amount: '3 fl oz', place: 'freezer', at: '2026-04-02 07:30' });
    enter('add', { amount: '75 mL', place: 'fridge', at: '2026-05-08 07:30' });
    const text = milkText(service().milk(), 'UTC');
    expect(text).toMatch(/In the fridge\n {2}2 +2½ fl oz \(75 mL\)/);
    // CDC: 4 days at 4 °C, so the time passed on the 12th at 7:30.
    expect(text).toMatch(/the published time passed Tue, May 12, 7:30 AM: 4 days from when it was expressed/);
    expect(text).toMatch(/In the freezer\n {2}1 +3 fl oz \(89 mL\)[\s\S]*6 months/);
    expect(text.replace('does not say that milk is safe', '')).not.toMatch(/\bsafe|fresh|still good/);
    expect(service().start().onHand).toMatchObject({ fridgeMl: 0, containers: 2 });
  });

  it('lets the center’s own time decide, and names whose it is', () => {
    service().keepSettings({ centerTimes: [{ situation: 'fridge', hours: 24, name: 'Room 2' }] });
    const [first] = service().milk().containers;
    expect(first?.deciding).toMatchObject({
      local: true,
      source: 'Room 2',
      passesAtMs: Date.parse('2026-05-09T07:30:00Z'),
    });
    expect(milkText(service().milk(), 'UTC')).toContain('the rule passed Sat, May 9, 7:30 AM: 24 hours');
    service().keepSettings({});
  });

  it('takes steps and takes them back', () => {
    expect(enter('thaw', { label: '1' }).containers[0]?.container).toMatchObject({
      id: '1',
      place: 'fridge',
      thawedAtMs: NOW,
    });
    expect(refusal(() => enter('thaw', { label: '1' })).field).toBe('id');
    expect(enter('take-back', { number: '3' }).containers.at(-1)?.container).toMatchObject({
      id: '1',
      place: 'freezer',
    });
    expect(refusal(() => enter('warm', { label: '9' })).message).toContain('no container 9');
    expect(refusal(() => enter('add', { label: '1', amount: '2 oz', place: 'fridge' })).field).toBe('id');
    expect(
      refusal(() => enter('add', { amount: '2 oz', place: 'fridge', at: '2026-05-12 20:00' })).field,
    ).toBe('atMs');
    expect(service().milk().totals.gotMl).toBeCloseTo(mlFromFlOz(3) + 75, 1);
  });

  it('proposes ended feeds, and writes one only when it is confirmed', () => {
    enter('add', { label: 'lid', amount: '3 fl oz', place: 'fridge', at: '2026-05-11 05:00' });
    const { proposals } = service().milk();
    // Proposed are only feeds of the last two days after this milk was entered: 9, 12 and 15 o'clock on the 11th.
    expect(proposals.map(({ leftBottleMl }) => leftBottleMl)).toEqual([73, 72.4, 71.8]);
    const [{ feed, candidates }] = [proposals.at(-1)!];
    expect(candidates[0]).toBe('lid');
    const answer = enter('fed', { feed, label: 'lid' });
    expect(answer.proposals.some((one) => one.feed === feed)).toBe(false);
    expect(answer.totals.fedMl).toBeCloseTo(71.8, 6);
    // CDC: what is left is for two hours after the feed ended.
    const left = answer.containers.find(({ container }) => container.id === 'lid')!;
    expect(left.passed.map(({ situation }) => situation)).toContain('after-feed');
    expect(() => enter('fed', { feed, label: 'lid' })).toThrow('in the list already');
  });

  it('proposes bottles that were written in by hand, and learns from them', () => {
    const before = service().plan(ASK).bottleFeeds;
    const entry = {
      kind: 'bottle' as const,
      atMs: NOW - 2 * 3_600_000,
      durationSec: 600,
      offeredMl: 75,
      leftMl: 15,
      milkKind: 'expressed' as const,
      side: null,
      caregiver: 'R.',
      note: null,
      babyId: null,
      babyName: 'Wren',
    };
    const { id } = store.addHandFeed(entry);
    store.addHandFeed({
      ...entry,
      kind: 'breast',
      offeredMl: null,
      leftMl: null,
      milkKind: null,
      atMs: NOW - 5 * 3_600_000,
    });
    expect(service().plan(ASK).bottleFeeds).toBe(before + 1);
    expect(service().milk().proposals[0]).toMatchObject({
      feed: id,
      leftBottleMl: 60,
      endedAtMs: entry.atMs + 600_000,
    });
  });

  it('plans with what is there and fit, and says what stays', () => {
    const text = planText(service().plan(ASK), 'UTC');
    expect(text).toMatch(/No bottles are planned|Filled from/);
    enter('add', { label: 'bag', amount: '400 mL', place: 'fridge', at: '2026-05-12 07:00' });
    const filled = planText(service().plan(ASK), 'UTC');
    expect(filled).toMatch(/Filled from\n[\s\S]*bag \(\d+ mL\)/);
    expect(filled).toContain(
      '2 stays: a published or center time has passed, or passes before the day is over.',
    );
  });

  it('enters the filled bottles once: frozen milk thawed, each bottle with a label, not a drop lost', () => {
    const before = service().milk();
    // Time passes between two reads of the clock; the later one must not count as a date in the future.
    let looks = 0;
    const moving = packingService(store, { ...AROUND, nowMs: () => NOW + looks++ });
    const after = moving.enterMilk({ packed: ASK });
    const packed = after.containers.filter(({ container }) => container.id.startsWith('5/13 #'));
    const { plan } = service().plan(ASK);
    expect(packed.length).toBeGreaterThanOrEqual(3);
    expect(packed.every(({ container }) => container.place === 'fridge')).toBe(true);
    expect(after.totals).toEqual(before.totals);
    const sum = (milk: typeof after): number =>
      milk.containers.reduce((all, { container }) => all + container.volumeMl, 0);
    expect(sum(after)).toBeCloseTo(sum(before), 6);
    expect(plan?.meetsLimit).toBe(true);
    expect(refusal(() => service().enterMilk({ packed: ASK })).code).toBe('packed-already');
  });

  it('lets milk be moved whose time has passed, says that it gets no new one, and counts it nowhere', () => {
    const before = service().start().onHand;
    const moved = enter('move', { label: '2', place: 'freezer' });
    const two = milkText(moved, 'UTC')
      .split('\n  ')
      .find((one) => one.startsWith('2 '));
    expect(moved.containers.find(({ container }) => container.id === '2')).toMatchObject({
      container: { place: 'freezer' },
      deciding: { situation: 'fridge', passesAtMs: Date.parse('2026-05-12T07:30:00Z') },
      passedBeforeMove: true,
    });
    expect(milkText(moved, 'UTC')).toMatch(
      /2 +2½ fl oz \(75 mL\).*\n {4}the published time passed Tue, May 12, 7:30 AM: 4 days .*\n {4}Its time had passed before it was last moved/,
    );
    expect(two).not.toContain('passes');
    expect(service().start().onHand).toEqual(before);
    expect(planText(service().plan({ ...ASK, day: '2026-05-14' }), 'UTC')).toContain(
      '2 stays: a published or center time has passed',
    );
    enter('take-back', { number: String(moved.lines[0]!.no) });
  });

  it('says how much of a time was used before a move', () => {
    const moved = enter('add', { label: 'shelf', amount: '1 oz', place: 'room', at: '2026-05-12 15:00' });
    expect(milkText(moved, 'UTC')).toContain(
      'passes Tue, May 12, 7:00 PM: 4 hours from when it was expressed',
    );
    const chilled = milkText(enter('move', { label: 'shelf', place: 'fridge' }), 'UTC');
    expect(chilled).toMatch(
      /passes Wed, May 13, 6:00 PM: 4 days in the fridge, 75% of that used up before \(CDC.*own rule, no source/,
    );
  });

  it.each([
    ['is missing', null, 'cannot be read'],
    ['is no JSON', '{"id": "A",', 'is not JSON'],
    ['is something else', '{"feeds": []}', 'list of containers'],
    ['holds negative milk', JSON.stringify([{ ...LID, volumeMl: -30 }]), 'Container 1, volumeMl'],
    [
      'comes from the future',
      JSON.stringify([{ ...LID, expressedAtMs: NOW + DAY_MS }]),
      'lies in the future',
    ],
  ])('takes nothing from a file that %s', (_what, content, says) => {
    const path = join(tmpdir(), `ebbline-milk-${process.pid}.json`);
    if (content !== null) writeFileSync(path, content);
    expect(() => milkFrom(path, NOW)).toThrow(says);
    rmSync(path, { force: true });
  });

  it.each(['-3 oz', '3', 'three oz', '', undefined])('reads no amount from %j', (text) => {
    expect(() => amountOf(text)).toThrow(/amount/);
  });

  it('reads amounts in both units (NIST: 1 fl oz is 29.5735 mL)', () => {
    expect(['3 fl oz', '2.5oz', '90 mL', '60ml'].map(amountOf)).toEqual([88.72, 73.93, 90, 60]);
  });
});

describe('printed sheets', () => {
  const sheet = (name: 'feeding-plan' | 'day-sheet', query: object) =>
    service().sheet(name, 'html', query as Record<string, unknown>);

  it('say whom to call, or why they cannot be made', async () => {
    await expect(sheet('feeding-plan', {})).rejects.toThrow('whom to call');
    service().keepSettings({
      parent: { name: 'Mara', phone: '555-0142' },
      leftoverRule: 'Room 2: out at once.',
    });
    const html = await sheet('feeding-plan', { day: '2026-05-13', from: '08:30', until: '17:30' });
    expect(html).toMatch(/Wren · May 13, 2026/);
    expect(html).toMatch(/I usually take 1¾–3¼ fl oz \(50–95 mL\) at a feed\./);
    expect(html).toContain('My feeds usually last about 15 minutes.');
    expect(html).toContain('Room 2: out at once.');
    expect(html).toContain('A pause to burp about every ½ fl oz (15 mL)');
    expect(await sheet('feeding-plan', { sleeve: 'none' })).toContain('about every 2–3 fl oz (60–90 mL)');
    expect(html).toMatch(/One for each feed: /);
    expect(await sheet('feeding-plan', { language: 'es', sleeve: 'none' })).not.toContain('funda significa');
  });

  it('fill the day sheet from kept feeds only where asked', async () => {
    const day = new Date(NOW - DAY_MS).toISOString().slice(0, 10);
    expect(await sheet('day-sheet', { day, filled: 'yes' })).toMatch(
      /<td>9:00 AM<\/td><td>B<\/td><td>3 fl oz \(90 mL\)<\/td><td>½ fl oz \(20 mL\)<\/td><td>2½ fl oz \(70 mL\)<\/td><td>15<\/td><td>sleeve<\/td><td>Juno<\/td>/,
    );
    expect(await sheet('day-sheet', { day })).not.toContain('9:00 AM');
  });

  it('fill the day sheet with bottles that were written in by hand', async () => {
    const atMs = Date.parse('2026-05-09T14:20:00Z');
    const bottle = {
      kind: 'bottle',
      atMs,
      durationSec: 720,
      offeredMl: 90,
      leftMl: 15,
      milkKind: 'formula',
    } as const;
    const said = { side: null, caregiver: 'R.', note: 'calm', babyId: null, babyName: 'Wren' };
    const { id } = store.addHandFeed({ ...bottle, ...said });
    expect(await sheet('day-sheet', { day: '2026-05-09', filled: 'yes' })).toMatch(
      /<td>2:20 PM<\/td><td>F<\/td><td>3 fl oz \(90 mL\)<\/td><td>½ fl oz \(15 mL\)<\/td><td>2½ fl oz \(75 mL\)<\/td><td>12<\/td><td>calm<\/td><td>R\.<\/td>/,
    );
    store.correctHandFeed(id, { kind: 'withdrawn' });
    expect(await sheet('day-sheet', { day: '2026-05-09', filled: 'yes' })).not.toContain('2:20 PM');
  });
});
