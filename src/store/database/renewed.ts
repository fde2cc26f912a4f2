/**
 * A connection that is replaced when it is dead: after a disk was away, or after a lasting error, a handle never works again although the file
 * is intact. It must be the same file: nothing is written into another file in its place.
 */
import * as fs from 'node:fs';
import { codeOf, PlainError } from '../../base/errors.ts';
import { quietly } from '../disk.ts';
import { isOursNow } from './database.ts';
import type { FeedDatabase, Statement } from './feed-database.ts';

/** `ready` must be called before each use. */
export interface RenewedDatabase extends FeedDatabase {
  /** @throws PlainError store-gone, and errors of `open` */
  ready(): void;
}

/** After these errors a handle may be dead (sqlite.org/rescode.html). */
const MAY_BE_DEAD = /^SQLITE_(IOERR|NOTADB|CORRUPT|CANTOPEN|READONLY|PROTOCOL|INTERNAL|MISUSE)/;

/**
 * @param open  opens the existing `file`
 * @param follows  true if no feed is written: then another file in its place, as after a restore, is accepted
 */
export function renewedDatabase(
  file: string,
  open: () => FeedDatabase,
  follows: boolean,
): RenewedDatabase & {
  /** Sets a pragma on this connection and all later ones. */
  set(pragma: string): void;
} {
  let current = open();
  let isDead = false;
  const settings: string[] = [];
  let whichFile = identityOf(file);

  const renew = (): void => {
    const dead = current;
    // Its open transaction would block the next one.
    quietly(() => dead.inTransaction && dead.exec('ROLLBACK'));
    // The dead connection is dropped only when a new one exists: the library ends the whole program if a closed one is used.
    const next = open();
    for (const pragma of settings) next.exec(pragma);
    current = next;
    isDead = false;
    quietly(() => dead.close());
  };
  const watched = <T>(action: () => T): T => {
    try {
      return action();
    } catch (error) {
      if (MAY_BE_DEAD.test(String(codeOf(error)))) isDead = true;
      throw error;
    }
  };
  const self = {
    ready() {
      const now = identityOf(file);
      const isOther = now !== whichFile && now !== UNKNOWN && whichFile !== UNKNOWN;
      if (isOther && (now === null || !follows)) throw gone(file, now);
      if (!(isDead || isOther) || isOursNow(self)) return;
      renew();
      whichFile = now;
    },
    set(pragma: string) {
      watched(() => current.exec(pragma));
      settings.push(pragma);
    },
    exec: (sql: string) => watched(() => current.exec(sql)),
    prepare<Row>(sql: string): Statement<Row> {
      let of: FeedDatabase | null = null;
      let statement: Statement<Row>;
      const fresh = (): Statement<Row> => {
        if (of !== current) {
          statement = current.prepare<Row>(sql);
          of = current;
        }
        return statement;
      };
      // An error of the new connection is thrown at once.
      watched(fresh);
      return {
        run: (...values: unknown[]) => watched(() => fresh().run(...values)),
        all: (...values: unknown[]) => watched(() => fresh().all(...values)),
      };
    },
    close: () => current.close(),
    get inTransaction() {
      return current.inTransaction;
    },
  };
  return self;
}

/** The disk does not even identify the file; using the database will report the error. */
const UNKNOWN = 'unknown';

/** @returns the file's identity, by its number on its disk; null if there is none */
function identityOf(file: string): string | null {
  try {
    const { dev, ino } = fs.statSync(file);
    return `${dev}:${ino}`;
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? null : UNKNOWN;
  }
}

const gone = (file: string, now: string | null): PlainError =>
  new PlainError(
    'store-gone',
    now === null
      ? `The database ${file} was removed while Ebbline uses it.`
      : `Another file lies now where the database ${file} was; nothing is written into it.`,
    'Put the one from before back in its place, or start Ebbline anew after the feed; what is measured meanwhile is in its capture, and a feed is made of it by: ebbline data check --rebuild',
  );
