/** A plan as the command line asks for it: whose it is, when, and milk that a file lists. */
import { readFileSync } from 'node:fs';
import { toldApart } from '../../base/babies.ts';
import { dayAfter, dayOf } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import { type PackingSettings, readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { type Container, readContainers } from '../../planning/milk/milk.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { type AskedBaby, askedBaby, knownBabies } from '../babies/known-babies.ts';
import { familySurroundings } from '../kept/family-zone.ts';
import { planFor } from './plan-for.ts';

/** @throws PlainError, with the option to correct */
export function planAsAsked(store: FeedJournal, options: PlanOptions): { plan: PackingAnswer; zone: string } {
  const surroundings = familySurroundings(store);
  const { zone } = surroundings;
  const now = surroundings.nowMs();
  const settings = settingsFor(readPackingSettings(store.readPacking()), options);
  const baby = babyOf(store, options, now);
  const [from, until] = hoursOf(options, settings);
  const { day = dayAfter(dayOf(now, zone)), feeds = null, milk } = options;
  const ask = { birthDay: baby.birthDay, day, from, until, feeds };
  const { answer } = planFor(store, ask, baby, surroundings, {
    settings,
    ...(milk !== undefined && { milk: milkFrom(milk, now) }),
  });
  return { plan: answer, zone };
}

/** @throws PlainError baby-open, baby-which, birth-unknown */
export function babyOf(
  store: FeedJournal,
  { baby, born }: { baby?: string; born?: string },
  nowMs: number,
): AskedBaby & { birthDay: string } {
  const babies = knownBabies(store, nowMs);
  if (baby === undefined && babies.length > 1)
    throw new PlainError(
      'baby-open',
      `Several babies are known: ${babies.map((one) => toldApart(one, babies)).join(', ')}.`,
      'Say which one with --baby NAME.',
    );
  const known = askedBaby(store, baby, nowMs);
  const birthDay = born ?? known.birthDay;
  if (birthDay === null)
    throw new PlainError(
      'birth-unknown',
      'The birth date is not known, and the portion rests on the baby’s age.',
      'Give it with --born YYYY-MM-DD, or enter it on the page before a feed.',
    );
  return { ...known, birthDay };
}

/** @throws PlainError when it cannot be read, is no JSON, or has an impossible container */
export function milkFrom(path: string, nowMs: number): Container[] {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (cause) {
    throw new PlainError('milk-unreadable', `The file ${path} cannot be read.`, 'Check its name.', { cause });
  }
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (cause) {
    throw new PlainError('milk-unreadable', `The file ${path} is not JSON.`, 'Give a list of containers.', {
      cause,
    });
  }
  return readContainers(data, nowMs);
}

const settingsFor = (kept: PackingSettings, { shortDays, mostBottles }: PlanOptions): PackingSettings =>
  readPackingSettings({
    ...kept,
    ...(shortDays !== undefined && { shortLimit: shortDays / 100 }),
    ...(mostBottles !== undefined && { mostBottles }),
  });

function hoursOf({ away }: PlanOptions, { usualHours }: PackingSettings): [string, string] {
  if (away === undefined) return [usualHours.from, usualHours.until];
  const [, from, until] = /^(\d{1,2}:\d{2})\s*-\s*(\d{1,2}:\d{2})$/.exec(away) ?? [];
  if (!from || !until)
    throw new PlainError('away-impossible', `"${away}" is no time away.`, 'Write it as --away 08:30-17:30.');
  return [from.padStart(5, '0'), until.padStart(5, '0')];
}

export interface PlanOptions {
  /** "08:30-17:30"; default: the usual hours. */
  away?: string;
  day?: string;
  feeds?: number;
  baby?: string;
  born?: string;
  /** File of containers, JSON. */
  milk?: string;
  /** Days of 100 on which it may run short. */
  shortDays?: number;
  mostBottles?: number;
  json?: boolean;
  simulated?: boolean;
}
