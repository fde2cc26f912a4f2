import { rowOf } from './src/planning/bag/plain-plans.ts';
import { outcomeOf, serveDay } from './src/planning/bag/serving.ts';
import { dayKinds, learnBaby, type DayKind, type PastDay } from './src/planning/intake/intake-model.ts';
import { HABITS, seenDay, strangeBaby } from './tests/support/strange-babies.ts';
import { otherBaby, WORLDS } from './tests/support/other-worlds.ts';
const B = Number(process.env.B ?? 30), L = [0.02, 0.05, 0.1, 0.2];
function rowWithin(kinds: readonly DayKind[], limit: number) { const at = (ml: number) => { const bag = rowOf(ml, kinds[0]!.feeds.length + 2, false, null); return { bag, shortChance: outcomeOf(bag, kinds).shortChance }; }; let lo = 10, hi = 101; while (lo < hi) { const m = (lo + hi) >> 1; if (at(3 * m).shortChance <= limit) hi = m; else lo = m + 1; } return at(3 * lo); }
function run(name: string, habit: any, gen: (b: number) => any[]) {
  const claimed = L.map(() => 0), short = L.map(() => 0); let n = 0; const perBaby: number[][] = [];
  for (let b = 0; b < B; b++) { const past: PastDay[] = []; const diff = L.map(() => 0); const days = gen(b);
    for (const day of days) { const known = past.slice(-42).map((o) => ({ ...o, daysAgo: day.ageDays - o.ageDays })); const kinds = dayKinds(learnBaby(day.ageDays, known), { feeds: day.wantedMl.length, hours: day.hours }); let bag5: any;
      L.forEach((l, i) => { const r = rowWithin(kinds, l); claimed[i]! += r.shortChance; const s = Number(serveDay(r.bag, day.wantedMl).short); short[i]! += s; diff[i]! += (s - r.shortChance) / days.length; if (i === 1) bag5 = r.bag; }); n++; past.push(seenDay(day, bag5, habit, b)); }
    perBaby.push(diff); }
  console.log(name.padEnd(14), L.map((_, i) => { const m = perBaby.reduce((s, d) => s + d[i]!, 0) / B; const se = Math.sqrt(perBaby.reduce((s, d) => s + (d[i]! - m) ** 2, 0) / B / (B - 1)); return `${(100 * claimed[i]! / n).toFixed(1)}→${(100 * short[i]! / n).toFixed(1)} (${(100 * m).toFixed(1)}±${(196 * se).toFixed(1)})`; }).join('  '));
}
const which = process.env.W?.split(',');
for (const h of HABITS) if (!which || which.includes(h)) run(h, h, (b) => strangeBaby(900 + b, 25, h));
for (const w of WORLDS) if (!which || which.includes(w)) run(w, 'plain', (b) => otherBaby(900 + b, 25, w));
