/** Deletes a baby in a data folder and in every store inside it. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { PlainError } from '../../base/errors.ts';
import { DATABASE_FILE } from '../data-folder.ts';
import { type ForgetResult, forgetBaby } from './forget.ts';
import { type HeldFolder, holdFolder } from './held-folder.ts';
import { STAGE } from './restore.ts';
import { type Asked, type CountedBaby, countOf } from './whom-to-forget.ts';

/**
 * As `forgetBaby`, in a data folder locked against recording, and in the stores inside it: simulated feeds, practice, and stores
 * moved aside by a restore.
 */
export function forgetInFolder(folder: string, who: string): ForgetResult {
  const { id, name } = keptOf(folder, who);
  return summed(inAllOf(folder, (held) => forgetBaby(held, [who, ...(id === null ? [] : [id]), name])));
}

/** Only the stores inside a data folder. */
export function forgetInside(folder: string, who: Asked): void {
  for (const inside of storesInside(folder)) inStore(inside, (held) => forgetBaby(held, who));
}

/** The data of a baby there, before deletion. @throws PlainError forget-nobody */
export function keptOf(folder: string, who: string): CountedBaby {
  const counts = inAllOf(folder, ({ database }) => countOf(database, who));
  const { id, name } = counts[0]!;
  const sum = (part: 'feeds' | 'handFeeds') => counts.reduce((total, one) => total + one[part], 0);
  return { id, name, feeds: sum('feeds'), handFeeds: sum('handFeeds') };
}

/** @returns the results of `action` in each store that knows the baby @throws PlainError forget-nobody if none does */
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
        // After an interrupted restore the database may still have to be put in place.
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
