import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { costOf } from '../../hardware/cost.ts';
import { allParts } from '../../hardware/parts.ts';
import { priceOf } from '../../hardware/prices.ts';

const guide = readFileSync(new URL('../../hardware/BUILD.md', import.meta.url), 'utf8');

describe('cost', () => {
  it('has a price for every part, low below high', () => {
    for (const { part } of allParts()) expect(priceOf(part)[0]).toBeLessThanOrEqual(priceOf(part)[1]);
    expect(() => priceOf('unobtainium')).toThrow('unobtainium');
    const [low, high] = costOf(false);
    expect(low).toBeGreaterThan(50);
    expect(high).toBeGreaterThan(low);
    expect(guide).toContain(`$${Math.round(low)} to $${Math.round(high)} for a sleeve`);
  });
});
