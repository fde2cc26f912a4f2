import { PlainError } from '../base/errors.ts';

/** An error of a disk or database in plain words. `signs` match a system or SQLite error code. */
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
    // SQLite reports only ENOSPC as full; a quota, a limit of the file size, or no room for the log are I/O errors to it.
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
  // An error of our own code is passed on unchanged.
  if (!code && cause.name !== 'Error') return cause;
  const sign = code && code !== 'SQLITE_ERROR' ? code : cause.message;
  const fault = FAULTS.find(({ signs }) => signs.test(sign));
  if (fault) return new PlainError(fault.code, fault.say(where, sign), fault.remedy, { cause });
  if (!isOfDiskOrDatabase(code)) return cause;
  return new PlainError(UNNAMED.code, UNNAMED.say(where, cause.message), UNNAMED.remedy, { cause });
}

/** System errors are named ESOMETHING (POSIX errno.h), SQLite's SQLITE_SOMETHING, Node's own for a wrong call ERR_SOMETHING. */
const isOfDiskOrDatabase = (code: unknown): boolean =>
  typeof code === 'string' && /^(E[A-Z0-9]+|SQLITE_\w+)$/.test(code);
