/**
 * A connection that is made anew once the one before is dead: a disk that was away, or an error for good, leaves a handle that never works
 * again, while the file is there and whole. The file itself must be the same one: into another that lies in its place nothing is written.
 */
import * as fs from 'node:fs';
import { codeOf, PlainError } from '../../base/errors.ts';
import { quietly } from '../disk.ts';
import { isOursNow } from './database.ts';
import type { FeedDatabase, Statement } from './feed-database.ts';

/** To be asked before anything is done with it. */
export interface RenewedDatabase extends FeedDatabase {
  /** @throws PlainError store-gone, and as whatever opens it */
  ready(): void;
}

/** After these a handle may never work again (sqlite.org/rescode.html). */
const MAY_BE_DEAD = /^SQLITE_(IOERR|NOTADB|CORRUPT|CANTOPEN|READONLY|PROTOCOL|INTERNAL|MISUSE)/;

/**
 * @param open  opens `file`, which is there
 * @param follows  true where no feed is written: another file in its place, as after a restore, is taken up
 */
export function renewedDatabase(
  file: string,
  open: () => FeedDatabase,
  follows: boolean,
): RenewedDatabase & {
  /** Of a connection; each that follows gets it too. */
  set(pragma: string): void;
} {
  let current = open();
  let isDead = false;
  const settings: string[] = [];
  let whichFile = identityOf(file);

  const renew = (): void => {
    const dead = current;
    // What it holds of a transaction would keep the next one waiting.
    quietly(() => dead.inTransaction && dead.exec('ROLLBACK'));
    // The dead one is let go only when another is there: whatever is asked of a closed one ends the whole program in the library.
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
      // What is wrong with it is said at once, as without this.
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

/** A disk that does not even tell which file it is: the database itself will say what is wrong. */
const UNKNOWN = 'unknown';

/** @returns which file it is, by its number on its disk; null when there is none */
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
