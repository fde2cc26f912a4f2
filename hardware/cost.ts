/**
 * What a sleeve costs in money and hours. Prices are rough ones of single pieces in US dollars, from memory, without shipping; hours are
 * estimates: nobody has built one yet. Pure.
 */
import { allParts } from './parts.ts';
import { type Dollars, priceOf } from './prices.ts';

/** Once, for the bench, not for each sleeve. */
const BENCH = new Set([
  'USB-to-serial adapter',
  'in-system programmer for ATmega chips',
  'USB isolator',
  'charging stand',
  'bench weights',
  'syringe',
]);

/** A maker who solders well, with everything on the table; printing runs by itself. */
export const HOURS: readonly (readonly [what: string, hours: number])[] = [
  ['A. Prepare: cells, clamps, springs, burrs, reaming', 3],
  ['B. Solder and try on the table', 5],
  ['C. Hang the cup', 3],
  ['D. Close', 2],
  ['E. Prove it: check, calibrate, kitchen check', 2.5],
];
/** Waiting: glue and varnish overnight; printing at home. */
const WAITING = { nights: 2, printingHours: 30 } as const;

/** @returns sums in dollars, low and high */
export function costOf(bench: boolean): Dollars {
  return allParts()
    .filter(({ part, option }) => BENCH.has(part) === bench && !option)
    .map(({ part }) => priceOf(part))
    .reduce<Dollars>(([low, high], [a, b]) => [low + a, high + b], [0, 0]);
}

/** @returns cost and hours as Markdown */
export function costTable(): string {
  const dollars = ([low, high]: Dollars) => `$${Math.round(low)} to $${Math.round(high)}`;
  const all = HOURS.reduce((sum, [, hours]) => sum + hours, 0);
  return `**Cost**, rough prices of single pieces from memory: ${dollars(costOf(false))} for a sleeve (low: printed at home, simplest parts; high: a printing service), ${dollars(costOf(true))} once for the bench, tools not counted.

| hours of hand work, estimated: nobody has built one yet | |
| --- | --- |
${HOURS.map(([what, hours]) => `| ${what} | ${hours} |`).join('\n')}
| **all** | **${all}** |

And ${WAITING.nights} nights for glue and varnish, and some ${WAITING.printingHours} hours of a printer at home.`;
}
