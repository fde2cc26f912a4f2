/** The plan of bottles: how long it takes, also with five years of feeds; how honest it is and what it spares (planning-honesty.ts, planning-waste.ts). */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { packingService } from '../../src/app/packing/packing-service.ts';
import { DAY_MS } from '../../src/base/calendar.ts';
import { planBottles } from '../../src/planning/bag/bottles.ts';
import type { PackingRules } from '../../src/planning/bag/packing-rules.ts';
import { readPackingSettings, rulesOf } from '../../src/planning/bag/packing-settings.ts';
import { rowOf } from '../../src/planning/bag/plain-plans.ts';
import { type Bag, outcomeOf } from '../../src/planning/bag/serving.ts';
import { dayKinds, learnBaby } from '../../src/planning/intake/intake-model.ts';
import { openStore } from '../../src/store/open-store.ts';
import { AWAY, FOURTEEN } from '../planning/milk-on-hand.ts';
import { multiplyFeeds } from '../support/many-feeds.ts';
import { packingStore } from '../support/packing-store.ts';
import { benchHonesty } from './planning-honesty.ts';
import { benchWaste } from './planning-waste.ts';
import { fixed, median, percent, printTable, spread } from './table.ts';

/** Processor time of each run, ms: the machine's other work does not count. */
const timed = (times: number, act: () => unknown): number[] =>
  Array.from({ length: times }, () => {
    const before = process.cpuUsage();
    act();
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1000;
  });

function benchTime(): void {
  const rows = [4, 5, 6].flatMap((feeds) =>
    (['at-home', 'none'] as const).map((pouring) => {
      const kinds = dayKinds(learnBaby(120, []), { feeds, hours: 12 });
      const rules: PackingRules = { ...rulesOf(readPackingSettings(null), feeds), pouring };
      const away = { fromMs: AWAY.untilMs - 12 * 3_600_000, untilMs: AWAY.untilMs };
      const [firstMs] = timed(1, () => planBottles(kinds, FOURTEEN, away, rules));
      const plan = planBottles(kinds, FOURTEEN, away, rules);
      const bag: Bag = {
        firsts: FOURTEEN.slice(0, feeds).map(({ volumeMl }) => ({ ml: volumeMl, lostIfUnopened: false })),
        topUps: FOURTEEN.slice(feeds).map(({ volumeMl }) => ({ ml: volumeMl, lostIfUnopened: false })),
        spare: null,
      };
      const planMs = timed(15, () => planBottles(kinds, FOURTEEN, away, rules));
      const oneMs = timed(20, () => {
        for (let i = 0; i < 50; i++) outcomeOf(bag, kinds);
      });
      return [
        `${feeds} feeds, ${pouring === 'none' ? 'as stored' : 'poured at home'}`,
        fixed(firstMs!, 0),
        spread(planMs, 0),
        `${fixed(median(planMs) / (median(oneMs) / 50), 0)} ×`,
        plan.bottles.length,
        percent(plan.outcome.shortChance),
      ];
    }),
  );
  printTable(
    'A plan for 12 hours and 14 containers, time of the processor (goal: 150 ms)',
    ['day', 'ms, first', 'ms, median and range', 'beside one exact outcome', 'bottles', 'short'],
    rows,
  );
}

const FIVE_YEARS_FEEDS = 12_000;
const ASK = { birthDay: '', day: '', from: '08:30', until: '17:30', feeds: 3 };

/** The whole way of the page's answer: feeds out of the store, what they teach, the search. */
function benchYears(): void {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-bench-plan-'));
  const nowMs = Date.parse('2026-05-12T20:00:00Z');
  const dayOf = (daysAhead: number): string =>
    new Date(nowMs + daysAhead * DAY_MS).toISOString().slice(0, 10);
  const row = (feeds: string): string[] => {
    const store = openStore(folder, { recording: false, nowMs: () => nowMs });
    const service = packingService(store, { nowMs: () => nowMs, zone: 'UTC' });
    const ask = { ...ASK, baby: 'Wren', birthDay: dayOf(-100), day: dayOf(1) };
    const [firstMs] = timed(1, () => service.plan(ask));
    const planMs = timed(15, () => service.plan(ask));
    const kinds = dayKinds(learnBaby(100, []), { feeds: 3, hours: 9 });
    const bag = rowOf(90, 3, false, null);
    const oneMs = median(
      timed(20, () => {
        for (let i = 0; i < 50; i++) outcomeOf(bag, kinds);
      }),
    );
    store.close();
    return [feeds, fixed(firstMs!, 0), spread(planMs, 0), `${fixed(median(planMs) / (oneMs / 50), 0)} ×`];
  };
  packingStore(folder, nowMs).close();
  const rows = [row('42')];
  const file = join(folder, 'feeds.sqlite');
  multiplyFeeds({
    file,
    count: FIVE_YEARS_FEEDS,
    everyMs: DAY_MS / 6.5,
    babyNames: ['Wren'],
    bottleNames: ['any'],
  });
  rows.push(row('12,000, five years'));
  rmSync(folder, { recursive: true });
  printTable(
    'The page’s answer for 9 hours, time of the processor (goal: 150 ms)',
    ['feeds kept', 'ms, first', 'ms, median and range', 'beside one exact outcome'],
    rows,
  );
}

export function benchPlanTime(): void {
  benchTime();
  benchYears();
}

export function benchPlanning(): void {
  benchPlanTime();
  benchHonesty();
  benchWaste();
}
