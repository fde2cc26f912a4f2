/** Options that several commands share, each with one meaning everywhere, and how values are read. */
import { InvalidArgumentError } from 'commander';
import { dayAfter } from '../base/calendar.ts';
import type { Reading } from './definition.ts';

interface Reader<T> {
  (about: string): Reading<T, false>;
  (about: string, otherwise: T): Reading<T, true>;
}

export const readBy =
  <T>(read: (text: string, before?: T) => T): Reader<T> =>
  (about: string, otherwise?: T) => ({ about, read, otherwise });

const numberWhere = (isRight: (value: number) => boolean, otherwise: string) => (text: string) => {
  const value = Number(text);
  if (text.trim() !== '' && Number.isFinite(value) && isRight(value)) return value;
  throw new InvalidArgumentError(otherwise);
};
const wholeWhere = (isRight: (value: number) => boolean, otherwise: string) =>
  numberWhere((value) => Number.isInteger(value) && isRight(value), `It must be a whole number${otherwise}.`);

export const positive = readBy(numberWhere((value) => value > 0, 'It must be a number above zero.'));
export const notNegative = readBy(numberWhere((value) => value >= 0, 'It must be a number, 0 or more.'));
export const anyNumber = readBy(numberWhere(() => true, 'It must be a number.'));
/** Days of 100 on which milk may run short. */
export const shortDays = readBy(
  numberWhere((value) => value >= 1 && value <= 50, 'It must be a number from 1 to 50.'),
);
export const wholeNumber = readBy(wholeWhere((value) => value >= 1, ' above zero'));
export const portNumber = readBy(wholeWhere((value) => value >= 0 && value <= 65535, ' from 0 to 65535'));
const sleeve = wholeWhere((value) => value >= 0 && value < 2 ** 32, ', 0 or more');
export const sleeveNumber = readBy(sleeve);
export const sleeveNumbers = readBy<number[]>((text, before = []) => [...before, sleeve(text)]);

export const text = readBy((text) => text);

/** A day as YYYY-MM-DD. */
export const dayText = readBy((text) => {
  try {
    dayAfter(text);
    return text;
  } catch {
    throw new InvalidArgumentError('It must be a day as YYYY-MM-DD.');
  }
});

const DAYS_IN: Readonly<Record<string, number>> = { d: 1, w: 7, m: 365.25 / 12, y: 365.25 };

/** "90d", "26w", "18m", "2y" in days. */
export const ageDays = readBy((text) => {
  const [, number, inUnit = ''] = text.match(/^(\d{1,4})([dwmy])$/) ?? [];
  if (Number(number) > 0) return Number(number) * DAYS_IN[inUnit]!;
  throw new InvalidArgumentError('It must be a number with d, w, m or y, such as 2y.');
});

export const oneOf = <const W extends string>(about: string, words: readonly W[]): Reading<W, false> => ({
  about,
  words,
});

/** One of a few words; the first one unless another is given. */
export const choice = <const W extends string>(about: string, words: readonly W[]): Reading<W, true> => ({
  about,
  words,
  otherwise: words[0],
});

export const needed = <T = string>(one: string | Reading<T>): Reading<T, true> => ({
  ...(typeof one === 'string' ? { about: one } : { about: one.about, ...(one.read && { read: one.read }) }),
  isNeeded: true,
});

export const simulated = { '--simulated': 'of the simulated sleeve, not of a real one' } as const;
export const json = { '--json': 'as JSON' } as const;
export const force = { '--force': 'write over a file that is there' } as const;
export const baby = { '--baby <name>': 'which baby, where there are several' } as const;
export const language = { '--language <language>': choice('in which language', ['en', 'es']) } as const;
export const unit = { '--unit <unit>': choice('which unit stands first', ['fl-oz', 'ml']) } as const;
export const day = (without: string) =>
  ({ '--day <date>': dayText(`YYYY-MM-DD; without it ${without}`) }) as const;
export const pagePort = (otherwise: number) =>
  ({ '--page-port <number>': portNumber('where the page is served on this computer', otherwise) }) as const;

const onBroker = {
  '--site <name>': 'with --broker: name of the site',
  '--room <name>': 'with --broker: name of the room',
  '--broker-user <name>': 'user; else EBBLINE_BROKER_USER',
  '--broker-password-file <file>': 'file of the password; else EBBLINE_BROKER_PASSWORD',
  '--broker-ca <file>': 'certificate of its authority; else EBBLINE_BROKER_CA or the system’s',
  '--broker-plain': 'allow mqtt:// over a network, which everybody on it can read',
} as const;
const BROKER = 'broker by MQTT 5, such as mqtts://broker.example';
/** A broker, a place on it, and as whom. */
export const broker = { '--broker <address>': BROKER, ...onBroker } as const;
export const brokerNeeded = { '--broker <address>': needed(BROKER), ...onBroker } as const;

/** How a database server is reached. The password is not an option, since other users of the computer can read command lines. */
export const databaseAccess = {
  '--database-password-file <file>': 'file of the password; else EBBLINE_DATABASE_PASSWORD, or PGPASSFILE',
  '--database-ca <file>': 'certificate of its authority; else EBBLINE_DATABASE_CA or the system’s',
  '--database-plain': 'allow an open connection over a network, which everybody on it can read',
} as const;
export const databaseSite = {
  '--site <name>': 'with a database: whose rows; else EBBLINE_SITE, or "home"',
} as const;
/** A database server instead of the data folder. */
export const database = {
  '--database <address>':
    'feeds of a PostgreSQL server instead of the data folder, such as postgres://ward@db.example/feeds',
} as const;
