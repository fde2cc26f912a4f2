/**
 * Many days of bad luck in virtual time, each from its seed. A failure prints the seed: to play it again,
 * EBBLINE_WORLD=<seed> npx vitest run --config tests/vitest.config.ts tests/world
 */
import { expect, test } from 'vitest';
import { playWorld } from '../support/world.ts';
import { TURNS, type Turn } from '../support/world-turns.ts';

/** The lane lasts at most two minutes; hours of it by hand: EBBLINE_WORLDS=1000. */
const WORLDS = Number(process.env.EBBLINE_WORLDS ?? 12);
const VIRTUAL_SEC = 180;
const only = process.env.EBBLINE_WORLD;
const seeds = only ? [Number(only)] : Array.from({ length: WORLDS }, (_, i) => 1000 + i);
const met = new Set<string>();
let kept = 0;

test.each(seeds)(
  'world %i: every byte heard is kept or its loss is told, no cue from old data, no false sentence',
  async (seed) => {
    const { broken, feeds, turns } = await playWorld(seed, VIRTUAL_SEC);
    for (const turn of Object.keys(turns)) met.add(turn);
    expect({ seed, broken }).toEqual({ seed, broken: [] });
    kept += feeds;
  },
);

test.skipIf(only !== undefined)('every kind of fault came', () => {
  expect(kept).toBeGreaterThan(WORLDS);
  expect([...met].sort()).toEqual([...new Set<Turn>(TURNS)].sort());
});
