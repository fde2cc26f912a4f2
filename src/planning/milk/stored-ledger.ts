/**
 * The milk ledger as stored: numbered entries in the order of writing. A wrong entry is taken back by a later one and
 * stays in the list. New entries are stored all or none.
 */
import { z } from 'zod';
import { FieldError, PlainError } from '../../base/errors.ts';
import { withEntry } from './ledger.ts';
import { EMPTY_LEDGER, entrySchema, type Ledger, type LedgerEntry } from './ledger-state.ts';
import { hasPassed } from './milk-times.ts';
import { isFrozen } from './places.ts';

const takenBackSchema = z.strictObject({
  what: z.literal('taken-back'),
  atMs: z.int().nonnegative(),
  /** Number of the entry that was wrong. */
  no: z.int().positive(),
});
const storedEntrySchema = z.union([entrySchema, takenBackSchema]);
export type StoredEntry = z.infer<typeof storedEntrySchema>;

export interface EntryEvent {
  no: number;
  entry: unknown;
}

export interface LedgerLine {
  no: number;
  entry: LedgerEntry;
  takenBack: boolean;
}

export interface StoredLedger {
  ledger: Ledger;
  lines: LedgerLine[];
  /** Entries that cannot be read or are impossible; they are counted and left out. */
  leftOut: { no: number; why: string }[];
}

/** @param events as stored; @param nowMs no entry may be dated later */
export function storedLedger(events: readonly EntryEvent[], nowMs: number): StoredLedger {
  const leftOut: StoredLedger['leftOut'] = [];
  const read = events.flatMap(({ no, entry }) => {
    const parsed = storedEntrySchema.safeParse(entry);
    if (parsed.success) return [{ no, entry: parsed.data }];
    leftOut.push({ no, why: 'It is no entry of a milk ledger.' });
    return [];
  });
  const takenBack = new Set(read.flatMap(({ entry }) => (entry.what === 'taken-back' ? [entry.no] : [])));
  const lines = read.flatMap(({ no, entry }) =>
    entry.what === 'taken-back' ? [] : [{ no, entry, takenBack: takenBack.has(no) }],
  );
  let ledger = EMPTY_LEDGER;
  for (const line of lines) {
    if (line.takenBack) continue;
    try {
      ledger = withEntry(ledger, line.entry, nowMs);
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      leftOut.push({ no: line.no, why: error.message });
    }
  }
  return { ledger, lines, leftOut };
}

/** The form field that an error belongs to. */
const FIELDS: Record<string, string> = {
  'container-twice': 'id',
  'container-unknown': 'id',
  'container-gone': 'id',
  'already-offered': 'id',
  'not-offered': 'id',
  'not-frozen': 'id',
  'not-thawed': 'id',
  refrozen: 'place',
  'date-in-future': 'atMs',
  'date-order': 'atMs',
  'date-too-old': 'atMs',
  'too-much': 'ml',
  'feed-unknown': 'feed',
  'container-promised': 'id',
  'amount-missing': 'leftMl',
  'plan-unknown': 'plan',
};

/**
 * New entries, checked against the ledger.
 * @param data a list of entries
 * @returns the entries, to be stored all or none
 * @throws FieldError at the field that is wrong; then none must be stored
 */
export function newEntries(events: readonly EntryEvent[], data: unknown, nowMs: number): StoredEntry[] {
  const entries = readEntries(data);
  let { ledger } = storedLedger(events, nowMs);
  for (const entry of entries) {
    if (entry.what === 'taken-back') ledger = withoutEntry(events, entry.no, nowMs);
    else ledger = atField(() => withEntry(ledger, entry, nowMs));
  }
  return entries;
}

function readEntries(data: unknown): StoredEntry[] {
  const list = z.array(z.unknown()).min(1).max(100).safeParse(data);
  if (!list.success)
    throw new FieldError(
      'entry-invalid',
      '',
      'There is no entry.',
      'Enter at least one; nothing was changed.',
    );
  return list.data.map((one) => {
    const schema = (one as { what?: unknown } | null)?.what === 'taken-back' ? takenBackSchema : entrySchema;
    const parsed = schema.safeParse(one);
    if (parsed.success) return parsed.data;
    const [issue] = parsed.error.issues;
    const field = issue!.path.join('.');
    throw new FieldError(
      'entry-invalid',
      field,
      `${field === '' ? 'The entry' : (NAMES[field] ?? field)}: ${plainly(issue!)}.`,
      'Correct it and try again; nothing was changed.',
    );
  });
}

const NAMES: Record<string, string> = {
  ml: 'The amount',
  id: 'The label',
  atMs: 'The time',
  place: 'The place',
};

const plainly = ({ code, message }: { code: string; message: string }): string =>
  PLAIN[code] ?? message.toLowerCase();

const PLAIN: Record<string, string> = {
  invalid_type: 'not given, or not readable',
  too_small: 'too little',
  too_big: 'too much',
  invalid_value: 'not one that there is',
};

function withoutEntry(events: readonly EntryEvent[], no: number, nowMs: number): Ledger {
  const before = storedLedger(events, nowMs);
  const line = before.lines.find((one) => one.no === no && !one.takenBack);
  if (!line)
    throw new FieldError(
      'entry-unknown',
      'no',
      `There is no entry ${no} to take back.`,
      'Look at the list again.',
    );
  const rest = events.filter((event) => event.no !== no);
  const after = storedLedger(rest, nowMs);
  const known = new Set(before.leftOut.map((one) => one.no));
  const broken = after.leftOut.find((one) => !known.has(one.no));
  if (broken)
    throw new FieldError(
      'entry-needed',
      'no',
      'A later entry rests on this one, so it cannot be taken back alone.',
      'Take back the later one first.',
    );
  return after.ledger;
}

function atField(act: () => Ledger): Ledger {
  try {
    return act();
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    throw new FieldError(error.code, FIELDS[error.code] ?? '', error.message, error.remedy);
  }
}

/** A proposed entry for a stored feed; a person has to confirm it, since it is only a guess which bottle was used. */
export interface Proposal {
  feed: string;
  startedAtMs: number;
  endedAtMs: number;
  leftBottleMl: number;
  /** Possible containers, most likely first; those whose published time had passed come last. */
  candidates: string[];
}

export interface EndedFeed {
  id: string;
  startedAtMs: number;
  endedAtMs: number;
  leftBottleMl: number;
  offeredMl: number | null;
}

/** Proposals for feeds that are not in the ledger, with containers that had enough milk. */
export function proposals({ ledger }: StoredLedger, feeds: readonly EndedFeed[]): Proposal[] {
  return feeds
    .filter(({ id, leftBottleMl }) => !Object.hasOwn(ledger.feeds, id) && leftBottleMl >= 1)
    .flatMap(({ id, startedAtMs, endedAtMs, leftBottleMl, offeredMl }) => {
      const fitting = Object.values(ledger.containers).filter(
        ({ container, gone, offered, latestAtMs }) =>
          gone === null &&
          offered === null &&
          !isFrozen(container) &&
          latestAtMs <= startedAtMs &&
          container.volumeMl >= leftBottleMl - 2,
      );
      const wantedMl = offeredMl ?? leftBottleMl;
      const passed = new Set(fitting.filter(({ container }) => hasPassed(container, startedAtMs, [])));
      const candidates = fitting
        .sort(
          (a, b) =>
            Number(passed.has(a)) - Number(passed.has(b)) ||
            Math.abs(a.container.volumeMl - wantedMl) - Math.abs(b.container.volumeMl - wantedMl) ||
            a.container.expressedAtMs - b.container.expressedAtMs,
        )
        .map(({ container }) => container.id);
      return candidates.length === 0 ? [] : [{ feed: id, startedAtMs, endedAtMs, leftBottleMl, candidates }];
    });
}

/** The entries of a confirmed proposal. */
export const entriesOf = (
  { feed, startedAtMs, endedAtMs, leftBottleMl }: Omit<Proposal, 'candidates'>,
  { id, volumeMl }: { id: string; volumeMl: number },
): LedgerEntry[] => [
  { what: 'offered', atMs: startedAtMs, id, feed },
  { what: 'fed', atMs: endedAtMs, feed, taken: [{ id, ml: Math.min(leftBottleMl, volumeMl) }] },
];
