/**
 * The audit trail: every view and change of a child's data, by whom and when. It is append-only: the database refuses other changes, and each line seals
 * the one before by a hash, so that a change of the file itself is detected. A child appears only by its number.
 */
import { createHash } from 'node:crypto';
import type { Deed } from '../../ward/people/deeds.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { rowsOf } from './rows.ts';

export interface TrailEntry {
  atMs: number;
  /** The person's identifier at sign-in; "this computer" without sign-in. */
  person: string;
  role: string;
  act: Deed;
  babyId: string | null;
  /** Details such as a label's code or a day; never a child's name or an amount. */
  more: string | null;
}

export interface TrailLine extends TrailEntry {
  no: number;
  seal: string;
}

/** Input of the first line's seal. */
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

  /** Call it inside a write transaction, so that no other line comes between. */
  add(entry: TrailEntry): void {
    const [last] = this.#all(`SELECT ${COLUMNS} FROM trail ORDER BY no DESC LIMIT 1`);
    const { atMs, person, role, act, babyId, more } = entry;
    this.database
      .prepare(
        'INSERT INTO trail (at_ms, person, role, act, baby_id, more, seal) VALUES (?, ?, ?, ?, ?, ?, ?)',
      )
      .run(atMs, person, role, act, babyId, more, sealOf(last?.seal ?? BEGIN, entry));
  }

  /** The newest first. @param babyId only of one child */
  latest({ limit, babyId = null }: { limit: number; babyId?: string | null }): TrailLine[] {
    return babyId === null
      ? this.#all(`SELECT ${COLUMNS} FROM trail ORDER BY no DESC LIMIT ?`, limit)
      : this.#all(`SELECT ${COLUMNS} FROM trail WHERE baby_id = ? ORDER BY no DESC LIMIT ?`, babyId, limit);
  }

  /** @returns number of the newest line with the beginning of its seal; kept elsewhere, it lets `isAsMarked` detect lines removed at the end; null before the first line */
  mark(): string | null {
    const [last] = this.latest({ limit: 1 });
    return last ? markOf(last) : null;
  }

  /** @param mark  an earlier result of `mark` */
  isAsMarked(mark: string): boolean {
    const [line] = this.#all(`SELECT ${COLUMNS} FROM trail WHERE no = ?`, Number(mark.split('-', 1)[0]));
    return line !== undefined && markOf(line) === mark.trim().toLowerCase();
  }

  /** @returns number of the first changed line, or null; lines removed at the end are detected only with a mark */
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
