/** The open format of a nipple's passport: what is written fits the published JSON Schema, by ajv, and what is wrong does not. */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { GENERATED } from '../../src/research/teat/generate.ts';
import { teatPassport } from '../../src/research/teat/passport.ts';
import { teatPassportSchema, teatPassportsSchema } from '../../src/research/teat/passport-format.ts';
import { kitchenBench } from '../support/kitchen-bench.ts';
import { nippleTrials } from '../support/passports.ts';

for (const { path, text } of GENERATED) {
  it(`${path} is what the format makes (else: npm run gen)`, () => {
    const kept = readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
    expect(kept).toBe(text());
    expect(kept.split('\n').slice(0, 4).join()).toContain('Generated');
  });
}

const read = (name: string): string =>
  readFileSync(new URL(`../../src/research/teat/${name}`, import.meta.url), 'utf8');
/** Reads the published schema file, not the code from which it is made. */
const isPassports = new Ajv2020({ allErrors: true })
  .addKeyword('unit')
  .compile(JSON.parse(read('passport.schema.json')));

const bench = (volumesMl: readonly number[], change = {}) =>
  nippleTrials(volumesMl, { atMs: 1_767_690_000_000, ...change });
/** The passport as JSON in a file. */
const written = (passport: unknown): Record<string, unknown> => JSON.parse(JSON.stringify(passport));

const nothing = teatPassport(bench([0, 0, 0]));
const WRITTEN = {
  'by itself': teatPassport(bench([9, 10, 11])),
  'under a pump': teatPassport(bench([40, 41, 42], { suction: { mmHg: 150 } })),
  'of a nipple that gives nothing': nothing,
  'worn, since one that gave nothing': teatPassport(bench([9, 10, 11]), nothing),
  worn: teatPassport(bench([9, 10, 11]), teatPassport(bench([5, 5, 5.2]))),
};

describe('the published schema', () => {
  it.each(Object.entries(WRITTEN))('takes a passport %s', (_, passport) => {
    isPassports([written(passport)]);
    expect(isPassports.errors).toBeNull();
  });

  it('takes what 100 simulated kitchens give', () => {
    const random = new Random(77, 'passports');
    const all = Array.from({ length: 100 }, (_, i) =>
      teatPassport(
        kitchenBench(random, random.between([0.5, 60]), { suctionMmHg: i % 2 === 0 ? 0 : 120 }).data,
      ),
    );
    isPassports(written(all));
    expect(isPassports.errors).toBeNull();
  });

  it('refuses one in which any field is missing, of another kind, or too many', () => {
    const good = written(WRITTEN['worn, since one that gave nothing']);
    const spoilt = (change: (one: Record<string, unknown>) => void): Record<string, unknown> => {
      const one = structuredClone(good);
      change(one);
      return one;
    };
    const bad = [
      ...Object.keys(good).flatMap((name) => [
        spoilt((one) => delete one[name]),
        spoilt((one) => Object.assign(one, { [name]: ['no'] })),
        spoilt((one) => Object.assign(one, { [name]: -1 })),
      ]),
      // A later version, a wrong unit, and a value that is not allowed.
      { ...good, version: 2 },
      { ...good, conditions: { ...(good.conditions as object), tiltDeg: 120 } },
      { ...good, conditions: { ...(good.conditions as object), suction: { kPa: 20 } } },
      { ...good, conditions: { ...(good.conditions as object), liquid: 'juice' } },
      { ...good, holeMm: { least: 0.4 } },
      { ...good, trials: 2.5 },
      { ...good, make: 'any' },
      { ...good, teat: '' },
    ];
    for (const one of bad) {
      const isTime = (one.atMs as number) === -1;
      expect([one, isPassports([one])]).toEqual([one, isTime]);
      // The program's own schema accepts the same.
      expect(teatPassportSchema.safeParse(one).success).toBe(isTime);
    }
    expect(isPassports(good)).toBe(false);
    expect(teatPassportsSchema.safeParse([good]).success).toBe(true);
  });
});

describe('the page', () => {
  it('has a row for each field, with its unit where it is a number', () => {
    const page = read('PASSPORT.md');
    const rows = page
      .split('\n')
      .filter((line) => line.startsWith('| `'))
      .map((line) => line.split(' | '));
    const pathsIn = (value: unknown, before = ''): string[] =>
      typeof value !== 'object' || value === null
        ? []
        : Object.entries(value).flatMap(([name, of]) => [
            `${before}${name}`,
            ...pathsIn(of, `${before}${name}.`),
          ]);
    const found = new Set([WRITTEN['under a pump'], WRITTEN.worn].flatMap((one) => pathsIn(one)));
    expect(rows.map(([path]) => path!.slice(3, -1)).toSorted()).toEqual([...found].toSorted());
    for (const [path, type, unit, meaning] of rows) {
      expect([path, meaning!.length > 10]).toEqual([path, true]);
      expect([path, unit !== '']).toEqual([path, /number/.test(type!)]);
    }
  });

  it('shows an example that the schema takes', () => {
    const [, example] = /```json\n([\s\S]*?)```/.exec(read('PASSPORT.md'))!;
    isPassports(JSON.parse(example!));
    expect(isPassports.errors).toBeNull();
  });
});
