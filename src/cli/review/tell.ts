/** `ebbline day`, `ebbline week`, `ebbline write-feed`: the same words as on the page, in the terminal. */

import { askedBaby, knownBaby } from '../../app/babies/known-babies.ts';
import { chooseZone, familySurroundings, familyZone } from '../../app/kept/family-zone.ts';
import { writtenEntry } from '../../app/review/hand-entry.ts';
import { reviewService } from '../../app/review/review-service.ts';
import { clockOf, dayOf } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import type { HandFeedKind } from '../../feed/record/kept.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { type FeedStore, openStore } from '../../store/feed-store.ts';
import { warnOpen } from './whose.ts';
import { writeOut } from './write-out.ts';

export interface TellOptions {
  baby?: string;
  language: string;
  unit: string;
  simulated?: boolean;
}

export interface DayCommandOptions extends TellOptions {
  out?: string;
  note?: string;
  names?: boolean;
}

function withStore<T>(simulated: boolean | undefined, act: (store: FeedStore) => T): T {
  const store = openStore(dataFolder({ simulated: simulated ?? false }));
  try {
    return act(store);
  } finally {
    store.close();
  }
}

/** A slip of the pen would tell of a day without a bottle. @throws PlainError */
const mustBeKnown = (store: FeedStore, baby: string | undefined): void => {
  warnOpen(store);
  if (baby !== undefined) knownBaby(store, baby, Date.now());
};

const say = (lines: readonly (string | false)[]): boolean =>
  process.stdout.write(`${lines.filter((line) => line !== false).join('\n')}\n`);

/** @throws PlainError */
export function dayCommand(day: string | undefined, options: DayCommandOptions): void {
  const { out, names, simulated, ...rest } = options;
  if (out !== undefined && !out.endsWith('.html'))
    throw new PlainError('day-ending', `The file ${out} must end in .html.`, 'Choose such a name.');
  withStore(simulated, (store) => {
    const service = reviewService(store, familySurroundings(store));
    mustBeKnown(store, rest.baby);
    const query = { ...rest, ...(day && { day }), names: names ? '1' : '' };
    if (out !== undefined) return writeOut(out, service.dayFile(query));
    const { told } = service.day(query);
    return say([
      told.title,
      told.sentence,
      ...told.lines,
      ...told.feeds.map(({ time, amount, marks, note }) =>
        [`  ${time}  ${amount}`, marks, note].filter(Boolean).join(' · '),
      ),
      ...told.published,
    ]);
  });
}

/** @throws PlainError */
export function weekCommand(day: string | undefined, { simulated, ...rest }: TellOptions): void {
  withStore(simulated, (store) => {
    mustBeKnown(store, rest.baby);
    const { told } = reviewService(store, familySurroundings(store)).week({ ...rest, ...(day && { day }) });
    const table = [told.table.heads, ...told.table.rows.map(({ cells }) => cells)];
    const widths = told.table.heads.map((_, i) => Math.max(...table.map((row) => row[i]!.length)));
    say([
      told.title,
      told.sentence,
      ...told.lines,
      ...table.map((row) => `  ${row.map((cell, i) => cell.padEnd(widths[i]!)).join('  ')}`.trimEnd()),
      told.compare.title,
      ...told.compare.lines.map((line) => `  ${line}`),
      ...told.milk,
      ...told.published,
    ]);
  });
}

export interface WriteFeedOptions {
  day?: string;
  at: string;
  again?: boolean;
  minutes?: number;
  offeredMl?: number;
  leftMl?: number;
  side?: 'left' | 'right' | 'both';
  baby?: string;
  by?: string;
  note?: string;
  simulated?: boolean;
}

/** @throws FieldError when it cannot be; nothing is kept then */
export function writeFeedCommand(kind: HandFeedKind, options: WriteFeedOptions): void {
  withStore(options.simulated, (store) => {
    const { nowMs, zone } = familySurroundings(store);
    const baby = askedBaby(store, options.baby, nowMs());
    const entry = writtenEntry(
      {
        kind,
        day: options.day ?? dayOf(nowMs(), zone),
        clock: options.at,
        again: options.again ?? false,
        durationSec: options.minutes === undefined ? null : options.minutes * 60,
        offeredMl: options.offeredMl,
        leftMl: options.leftMl,
        side: options.side,
        caregiver: options.by,
        note: options.note,
        babyId: baby.id,
        babyName: baby.name,
      },
      zone,
    );
    const { atMs, babyName } = store.addHandFeed(entry);
    const of = babyName === null ? '' : ` of ${babyName}`;
    say([`Kept: the feed${of} on ${dayOf(atMs, zone)} at ${clockOf(atMs, zone)}.`]);
  });
}

/** @throws FieldError when there is no such zone */
export function timeZoneCommand(zone: string | undefined, { simulated }: { simulated?: boolean }): void {
  withStore(simulated, (store) => {
    const now = zone === undefined ? familyZone(store) : chooseZone(store, zone);
    const whence = now.isChosen ? 'as chosen' : 'as this computer’s clock is set; nobody chose one';
    say([
      `Days and times are those of ${now.zone}, ${whence}.`,
      now.asks && 'Choose yours: ebbline time-zone America/Chicago',
    ]);
  });
}
