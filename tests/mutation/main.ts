/**
 * `npm run test:mutation`: makes small mistakes in the core, one at a time, and counts those that its tests notice. What is not noticed is listed,
 * with its reason where baseline.json gives one.
 *
 *   npm run test:mutation -- [--rooms pacing,base] [--each 40] [--seed 1] [--minutes 30] [--json FILE]
 *
 * Ends with 1 when the share noticed is lower than in baseline.json, or when a test is red without any mistake. The same seed draws the same mistakes; `--minutes` ends it early.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { drawn, findMutants, type Mutant } from './find-mutants.ts';
import { ROOMS, sourcesOf } from './rooms.ts';
import { tryMutants, type Verdict } from './tried.ts';

export interface Baseline {
  seed: number;
  each: number;
  /** Share of the mistakes that were noticed, those with a reason left out. */
  score: number;
  /** By id: why no test can or need notice it. */
  reasons: Record<string, { where: string; reason: string }>;
}

const baseline = JSON.parse(readFileSync(new URL('baseline.json', import.meta.url), 'utf8')) as Baseline;
const { values: asked } = parseArgs({
  options: {
    rooms: { type: 'string' },
    each: { type: 'string', default: String(baseline.each) },
    seed: { type: 'string', default: String(baseline.seed) },
    minutes: { type: 'string', default: '600' },
    json: { type: 'string' },
  },
});
const endsMs = performance.now() + Number(asked.minutes) * 60_000;
const goesOn = (): boolean => performance.now() < endsMs;
const chosen = asked.rooms?.split(',') ?? ROOMS.map(({ name }) => name);
const unknown = chosen.filter((name) => !ROOMS.some((room) => room.name === name));
if (unknown.length > 0) throw new Error(`There is no room ${unknown.join(', ')}.`);

const red: string[] = [];
const tried: { mutant: Mutant; verdict: Verdict }[] = [];
for (const room of ROOMS.filter(({ name }) => chosen.includes(name))) {
  const all = sourcesOf(room).flatMap((file) => findMutants(file, readFileSync(file, 'utf8')));
  const mutants = drawn(all, Number(asked.seed), Number(asked.each));
  console.log(`${room.name}: ${mutants.length} of ${all.length} mistakes`);
  const redBefore = await tryMutants({
    mutants,
    tests: room.tests,
    goesOn,
    onVerdict(mutant, verdict) {
      tried.push({ mutant, verdict });
      const reason = baseline.reasons[mutant.id]?.reason;
      if (verdict === 'noticed') return;
      const what = `${mutant.file}:${mutant.line} ${mutant.id} ${mutant.from} → ${mutant.to}`;
      console.log(`  ${verdict}: ${what.replaceAll(/\s+/g, ' ')}${reason ? ` (${reason})` : ''}`);
    },
  });
  for (const file of redBefore) console.log(`  red without any mistake: ${file}`);
  red.push(...redBefore);
}

const counted = tried.filter(({ mutant, verdict }) => verdict === 'noticed' || !baseline.reasons[mutant.id]);
const noticed = counted.filter(({ verdict }) => verdict === 'noticed').length;
const score = noticed / Math.max(1, counted.length);
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
console.log(
  `${noticed} of ${counted.length} mistakes noticed: ${percent(score)}; baseline ${percent(baseline.score)}; ${tried.length - counted.length} left out for a reason`,
);
if (asked.json) writeFileSync(asked.json, JSON.stringify({ score, tried }, null, 1));
process.exitCode = counted.length > 0 && red.length === 0 && score >= baseline.score ? 0 : 1;
