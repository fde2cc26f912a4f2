/** `ebbline day` and `ebbline week`: the same words as on the page, in the terminal. */

import { knownBaby } from '../app/babies/known-babies.ts';
import { familySurroundings } from '../app/kept/family-zone.ts';
import { reviewService } from '../app/review/review-service.ts';
import { PlainError } from '../base/errors.ts';
import type { FeedStore } from '../store/feed-store.ts';
import { warnOpen } from './feeds/whose.ts';
import { say, sayJson, writeOut } from './print-out.ts';
import { withStore } from './with-store.ts';

export interface TellOptions {
  day?: string;
  baby?: string;
  language: string;
  unit: string;
  json?: boolean;
  simulated?: boolean;
}

export interface DayCommandOptions extends TellOptions {
  out?: string;
  force?: boolean;
  note?: string;
  names?: boolean;
}

/** Refuses an unknown name, which would give an empty day. @throws PlainError */
const mustBeKnown = (store: FeedStore, baby: string | undefined): void => {
  warnOpen(store);
  if (baby !== undefined) knownBaby(store, baby, Date.now());
};

/** @throws PlainError */
export async function dayCommand(options: DayCommandOptions): Promise<void> {
  const { out, force = false, names, simulated, json, ...rest } = options;
  if (out !== undefined && !out.endsWith('.html'))
    throw new PlainError('day-ending', `The file ${out} must end in .html.`, 'Choose such a name.');
  await withStore({ simulated }, (store) => {
    const service = reviewService(store, familySurroundings(store));
    mustBeKnown(store, rest.baby);
    const query = { ...rest, names: names ? '1' : '' };
    if (out !== undefined) return writeOut(out, service.dayFile(query), { force });
    const answer = service.day(query);
    if (json) return sayJson(answer);
    const { told } = answer;
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
export async function weekCommand({ simulated, json, ...query }: TellOptions): Promise<void> {
  await withStore({ simulated }, (store) => {
    mustBeKnown(store, query.baby);
    const answer = reviewService(store, familySurroundings(store)).week({ ...query });
    if (json) return sayJson(answer);
    const { told } = answer;
    const table = [told.table.heads, ...told.table.rows.map(({ cells }) => cells)];
    const widths = told.table.heads.map((_, i) => Math.max(...table.map((row) => row[i]!.length)));
    return say([
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
