/** A baby forgotten in a data folder and in every store inside it. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { PlainError } from '../../base/errors.ts';
import { DATABASE_FILE } from '../data-folder.ts';
import { type ForgetResult, forgetBaby } from './forget.ts';
import { type HeldFolder, holdFolder } from './held-folder.ts';
import { STAGE } from './restore.ts';
import { type Asked, type CountedBaby, countOf } from './whom-to-forget.ts';

/**
 * As `forgetBaby`, in a data folder that nobody records into and in the stores inside it: those of simulated feeds and of practice,
 * and what a restore put aside.
 */
export function forgetInFolder(folder: string, who: string): ForgetResult {
  const { id, name } = keptOf(folder, who);
  return summed(inAllOf(folder, (held) => forgetBaby(held, [who, ...(id === null ? [] : [id]), name])));
}

/** The stores inside a data folder, after the folder itself was seen to. */
export function forgetInside(folder: string, who: Asked): void {
  for (const inside of storesInside(folder)) inStore(inside, (held) => forgetBaby(held, who));
}

/** What is kept of a baby there, before it is deleted. @throws PlainError forget-nobody */
export function keptOf(folder: string, who: string): CountedBaby {
  const counts = inAllOf(folder, ({ database }) => countOf(database, who));
  const { id, name } = counts[0]!;
  const sum = (part: 'feeds' | 'handFeeds') => counts.reduce((total, one) => total + one[part], 0);
  return { id, name, feeds: sum('feeds'), handFeeds: sum('handFeeds') };
}

/** @returns what `action` gave in each store that knows the baby @throws PlainError forget-nobody when none does */
function inAllOf<T>(folder: string, action: (held: HeldFolder) => T): T[] {
  const faults: PlainError[] = [];
  const results = [folder, ...storesInside(folder)].flatMap((place) => {
    const { result, nobody } = inStore(place, action);
    if (nobody) faults.push(nobody);
    return result === undefined ? [] : [result];
  });
  if (results.length === 0) throw faults[0]!;
  return results;
}

function inStore<T>(folder: string, action: (held: HeldFolder) => T): { result?: T; nobody?: PlainError } {
  const held = holdFolder(folder);
  try {
    return { result: action(held) };
  } catch (error) {
    if (error instanceof PlainError && error.code === 'forget-nobody') return { nobody: error };
    throw error;
  } finally {
    held.close();
  }
}

const storesInside = (folder: string): string[] =>
  fs.existsSync(folder)
    ? fs
        .readdirSync(folder)
        .map((name) => join(folder, name))
        // In a restore that was cut the database may be on its way.
        .filter((inside) => [DATABASE_FILE, STAGE].some((name) => fs.existsSync(join(inside, name))))
        .flatMap((inside) => [inside, ...storesInside(inside)])
    : [];

const summed = (results: readonly ForgetResult[]): ForgetResult =>
  results.reduce((sum, one) => ({
    feeds: sum.feeds + one.feeds,
    handFeeds: sum.handFeeds + one.handFeeds,
    milkEvents: sum.milkEvents + one.milkEvents,
    unreachable: [...sum.unreachable, ...one.unreachable],
    mentions: sum.mentions + one.mentions,
    unnamed: sum.unnamed + one.unnamed,
    unsure: sum.unsure + one.unsure,
  }));
