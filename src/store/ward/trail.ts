/**
 * The trail: every look at and change of a child's data, by whom and when. It is only added to: the database refuses anything else, and each line seals
 * the one before it, so that whoever changes the file itself is found out. A child stands in it by its number alone.
 */
import { createHash } from 'node:crypto';
import type { FeedDatabase } from '../database/feed-database.ts';
import { rowsOf } from './rows.ts';

export interface TrailEntry {
  atMs: number;
  /** As whom the sign-in knows her; of the computer itself "this computer". */
  person: string;
  role: string;
  /** What was done: "looked at the feeds", as a short name of ours. */
  act: string;
  babyId: string | null;
  /** What else tells which: a label's code, a day. Never a child's name or an amount. */
  more: string | null;
}

export interface TrailLine extends TrailEntry {
  no: number;
  seal: string;
}

/** What the first line seals. */
const BEGIN = 'ebbline trail 1';

const sealOf = (before: string, { atMs, person, role, act, babyId, more }: TrailEntry): string =>
  createHash('sha256')
    .update(JSON.stringify([before, atMs, person, role, act, babyId, more]))
    .digest('hex');

/** 64 bits of it: nobody finds another line that has them. */
const markOf = ({ no, seal }: TrailLine): string => `${no}-${seal.slice(0, 16)}`;

const COLUMNS = 'no, at_ms AS atMs, person, role, act, baby_id AS babyId, more, seal';

export class Trail {
  constructor(private readonly database: FeedDatabase) {}

  /** Inside a transaction that writes: the line before must stay the last one. */
  add(entry: TrailEntry): void {
    const [last] = this.#all(`SELECT ${COLUMNS} FROM trail ORDER BY no DESC LIMIT 1`);
    const { atMs, person, role, act, babyId, more } = entry;
    this.database
      .prepare(
        'INSERT INTO trail (at_ms, person, role, act, baby_id, more, seal) VALUES (?, ?, ?, ?, ?, ?, ?)',
      )
      .run(atMs, person, role, act, babyId, more, sealOf(last?.seal ?? BEGIN, entry));
  }

  /** The newest first. @param babyId of one child alone */
  latest({ limit, babyId = null }: { limit: number; babyId?: string | null }): TrailLine[] {
    return babyId === null
      ? this.#all(`SELECT ${COLUMNS} FROM trail ORDER BY no DESC LIMIT ?`, limit)
      : this.#all(`SELECT ${COLUMNS} FROM trail WHERE baby_id = ? ORDER BY no DESC LIMIT ?`, babyId, limit);
  }

  /** @returns the newest line's number and the beginning of its seal, to be kept apart from the trail: `isAsMarked` then tells of lines cut off at the end; null before the first line */
  mark(): string | null {
    const [last] = this.latest({ limit: 1 });
    return last ? markOf(last) : null;
  }

  /** @param mark  from `mark`, as it was written down at some time */
  isAsMarked(mark: string): boolean {
    const [line] = this.#all(`SELECT ${COLUMNS} FROM trail WHERE no = ?`, Number(mark.split('-', 1)[0]));
    return line !== undefined && markOf(line) === mark.trim().toLowerCase();
  }

  /** @returns number of the first line that is not as it was written, or null; lines that are missing at the end are seen by a mark alone */
  firstBroken(): number | null {
    let before = BEGIN;
    for (const line of this.#all(`SELECT ${COLUMNS} FROM trail ORDER BY no`)) {
      if (sealOf(before, line) !== line.seal) return line.no;
      before = line.seal;
    }
    return null;
  }

  #all(sql: string, ...values: unknown[]): TrailLine[] {
    return rowsOf<TrailLine>(this.database, sql, values);
  }
}
