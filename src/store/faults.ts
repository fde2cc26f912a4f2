import { PlainError } from '../base/errors.ts';

/** What can go wrong with a disk or a database, in plain words. `signs` match a system or SQLite error code. */
interface Fault {
  code: string;
  signs: RegExp;
  say: (where: string, sign: string) => string;
  remedy: string;
}

const FAULTS: readonly Fault[] = [
  {
    code: 'store-full',
    signs: /ENOSPC|EDQUOT|EFBIG|SQLITE_FULL/,
    say: (where) => `The disk that holds ${where} is full. Everything stored before is safe.`,
    remedy: 'Free some space on it, or set EBBLINE_DATA to a folder on another disk.',
  },
  {
    code: 'store-folder',
    signs:
      /EACCES|EPERM|EROFS|ENOTDIR|EISDIR|ENOENT|EEXIST|SQLITE_READONLY|SQLITE_CANTOPEN|local database .*: 14/,
    say: (where) => `Ebbline cannot write to ${where}.`,
    remedy: 'Give yourself write permission there, or set EBBLINE_DATA to a folder that you own.',
  },
  {
    code: 'store-foreign',
    signs: /SQLITE_NOTADB/,
    say: (where) => `The file ${where} is not an Ebbline database. It was left as it is.`,
    remedy: 'Move it away, or set EBBLINE_DATA to another folder.',
  },
  {
    code: 'store-strained',
    signs: /ENOMEM|EAGAIN|EINTR|EMFILE|ENFILE|SQLITE_NOMEM|SQLITE_INTERRUPT/,
    say: (where, sign) => `This computer is short of memory or of open files (${sign}), so ${where} waits.`,
    remedy: 'Close other programs.',
  },
  {
    code: 'store-away',
    signs: /ESTALE|ETIMEDOUT|ENXIO|ENODEV|ENOTCONN|EHOSTDOWN|EHOSTUNREACH|ENETUNREACH|EREMOTEIO|ESHUTDOWN/,
    say: (where, sign) => `The disk that holds ${where} does not answer (${sign}).`,
    remedy: 'Connect it again, or set EBBLINE_DATA to a folder on another disk.',
  },
  {
    // SQLite calls only ENOSPC full: a quota, a limit on the size of a file, a log that finds no room are errors of input and output to it.
    code: 'store-unwritten',
    signs: /SQLITE_IOERR_(WRITE|FSYNC|DIR_FSYNC|TRUNCATE|SHM|MMAP)/,
    say: (where, sign) =>
      `The database in ${where} cannot be written: its disk is full, or failing (${sign}).`,
    remedy: 'Free some space on it; if that does not help, copy the whole folder to another disk.',
  },
  {
    code: 'store-damaged',
    signs: /SQLITE_CORRUPT|SQLITE_IOERR|EIO|^no such (table|column)/,
    say: (where) => `The data in ${where} cannot be read: the file or the disk is damaged.`,
    remedy:
      'Copy the whole folder to another disk first. Each feed can be made anew from its capture: ebbline data check --rebuild.',
  },
  {
    code: 'store-busy',
    signs: /EBUSY|SQLITE_BUSY|SQLITE_LOCKED/,
    say: (where) => `Another program holds ${where}.`,
    remedy: 'Close the other one, then try again.',
  },
];

/** Any other error of the system or of SQLite. */
const UNNAMED: Omit<Fault, 'signs'> = {
  code: 'store-failed',
  say: (where, sign) => `The disk or the database that holds ${where} reports a fault (${sign}).`,
  remedy: 'Look at that disk, or set EBBLINE_DATA to a folder on another one.',
};

/** Runs `action`; a disk or database error in it becomes a PlainError that names `where`. Other errors pass unchanged. */
export function plainly<T>(where: string, action: () => T): T {
  try {
    return action();
  } catch (cause) {
    throw plainFault(where, cause);
  }
}

function plainFault(where: string, cause: unknown): unknown {
  if (cause instanceof PlainError || !(cause instanceof Error)) return cause;
  const { code } = cause as { code?: string };
  // A mistake of the program's own: no disk says so.
  if (!code && cause.name !== 'Error') return cause;
  const sign = code && code !== 'SQLITE_ERROR' ? code : cause.message;
  const fault = FAULTS.find(({ signs }) => signs.test(sign));
  if (fault) return new PlainError(fault.code, fault.say(where, sign), fault.remedy, { cause });
  if (!isOfDiskOrDatabase(code)) return cause;
  return new PlainError(UNNAMED.code, UNNAMED.say(where, cause.message), UNNAMED.remedy, { cause });
}

/** System errors are called ESOMETHING (POSIX errno.h), SQLite's SQLITE_SOMETHING, Node's own for a wrong call ERR_SOMETHING. */
const isOfDiskOrDatabase = (code: unknown): boolean =>
  typeof code === 'string' && /^(E[A-Z0-9]+|SQLITE_\w+)$/.test(code);
