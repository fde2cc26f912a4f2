import { PlainError } from '../errors.ts';

/** What can go wrong with a disk or a database, in plain words. `signs` match a system or SQLite error code. */
interface Fault {
  code: string;
  signs: RegExp;
  say: (where: string) => string;
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
    code: 'store-damaged',
    signs: /SQLITE_CORRUPT|SQLITE_IOERR|EIO|^no such (table|column)/,
    say: (where) => `The data in ${where} cannot be read: the file or the disk is damaged.`,
    remedy:
      'Copy the whole folder to another disk first. Each feed can be made again from its capture in the folder "captures" (ebbline replay).',
  },
  {
    code: 'store-busy',
    signs: /SQLITE_BUSY|SQLITE_LOCKED/,
    say: (where) => `Another program holds ${where}.`,
    remedy: 'Close the other one, then try again.',
  },
];

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
  const sign = code && code !== 'SQLITE_ERROR' ? code : cause.message;
  const fault = FAULTS.find(({ signs }) => signs.test(sign));
  return fault ? new PlainError(fault.code, fault.say(where), fault.remedy, { cause }) : cause;
}
