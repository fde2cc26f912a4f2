/** Options that several commands share, each with one meaning everywhere, and the parsers of their values. */
import { Command, InvalidArgumentError, Option } from 'commander';
import { dayAfter } from '../base/calendar.ts';

/** A command that takes several options in one call. */
export class Verb extends Command {
  override createCommand(name?: string): Verb {
    return new Verb(name);
  }

  with(...options: readonly Option[]): this {
    for (const option of options) this.addOption(option);
    return this;
  }

  /** Meant when a noun stands alone: a misspelled verb comes to it as an argument, and is said to be unknown. */
  refuseOtherVerbs(): this {
    return this.allowExcessArguments().hook('preAction', ({ args: [other] }) => {
      if (other !== undefined) this.error(`error: unknown command '${other}'`);
    });
  }
}

/** One of a few words; the first one unless another is given. */
export const choice = (flags: string, what: string, words: readonly string[]) =>
  new Option(flags, what).choices(words).default(words[0]);

export const simulated = new Option('--simulated', 'of the simulated sleeve, not of a real one');
export const json = new Option('--json', 'as JSON');
export const force = new Option('--force', 'write over a file that is there');
export const baby = new Option('--baby <name>', 'which baby, where there are several');
export const language = choice('--language <language>', 'in which language', ['en', 'es']);
export const unit = choice('--unit <unit>', 'which unit stands first', ['fl-oz', 'ml']);
export const day = (without: string) =>
  new Option('--day <date>', `YYYY-MM-DD; without it ${without}`).argParser(dayText);

/** A broker, a place on it, and as whom. */
export const broker = (isNeeded = false): Option[] => [
  new Option('--broker <address>', 'broker by MQTT 5, such as mqtts://broker.example').makeOptionMandatory(
    isNeeded,
  ),
  new Option('--site <name>', 'with --broker: name of the site'),
  new Option('--room <name>', 'with --broker: name of the room'),
  new Option('--broker-user <name>', 'user; else EBBLINE_BROKER_USER'),
  new Option('--broker-password-file <file>', 'file of the password; else EBBLINE_BROKER_PASSWORD'),
  new Option('--broker-ca <file>', 'certificate of its authority; else EBBLINE_BROKER_CA or the system’s'),
  new Option('--broker-plain', 'allow mqtt:// over a network, which everybody on it can read'),
];

/** How a database server is reached. The password is not an option, since other users of the computer can read command lines. */
export const databaseAccess = (): Option[] => [
  new Option(
    '--database-password-file <file>',
    'file of the password; else EBBLINE_DATABASE_PASSWORD, or PGPASSFILE',
  ),
  new Option(
    '--database-ca <file>',
    'certificate of its authority; else EBBLINE_DATABASE_CA or the system’s',
  ),
  new Option('--database-plain', 'allow an open connection over a network, which everybody on it can read'),
];
export const databaseSite = () =>
  new Option('--site <name>', 'with a database: whose rows; else EBBLINE_SITE, or "home"');

/** A database server instead of the data folder. @param isShown  false: understood, but not in the help */
export function databaseOptions({ hasSite, isShown }: { hasSite: boolean; isShown: boolean }): Option[] {
  const address = new Option(
    '--database <address>',
    'feeds of a PostgreSQL server instead of the data folder, such as postgres://ward@db.example/feeds',
  );
  const all = [address, ...(hasSite ? [] : [databaseSite()]), ...databaseAccess()];
  return isShown ? all : all.map((one) => one.hideHelp());
}

const numberWhere =
  (isRight: (value: number) => boolean, otherwise: string) =>
  (text: string): number => {
    const value = Number(text);
    if (text.trim() === '' || !Number.isFinite(value) || !isRight(value))
      throw new InvalidArgumentError(otherwise);
    return value;
  };
const wholeWhere = (isRight: (value: number) => boolean, otherwise: string) =>
  numberWhere((value) => Number.isInteger(value) && isRight(value), `It must be a whole number${otherwise}.`);

export const positive = numberWhere((value) => value > 0, 'It must be a number above zero.');
export const notNegative = numberWhere((value) => value >= 0, 'It must be a number, 0 or more.');
export const anyNumber = numberWhere(() => true, 'It must be a number.');
/** Days of 100 on which milk may run short. */
export const shortDays = numberWhere(
  (value) => value >= 1 && value <= 50,
  'It must be a number from 1 to 50.',
);
export const wholeNumber = wholeWhere((value) => value >= 1, ' above zero');
export const portNumber = wholeWhere((value) => value >= 0 && value <= 65535, ' from 0 to 65535');
export const sleeveNumber = wholeWhere((value) => value >= 0 && value < 2 ** 32, ', 0 or more');

/** @returns the given day @throws InvalidArgumentError if there is no such day */
export function dayText(text: string): string {
  try {
    dayAfter(text);
    return text;
  } catch {
    throw new InvalidArgumentError('It must be a day as YYYY-MM-DD.');
  }
}

const DAYS_IN: Readonly<Record<string, number>> = { d: 1, w: 7, m: 365.25 / 12, y: 365.25 };

/** @returns days in "90d", "26w", "18m", "2y" @throws InvalidArgumentError */
export function ageDays(text: string): number {
  const [, number, inUnit = ''] = text.match(/^(\d{1,4})([dwmy])$/) ?? [];
  if (Number(number) > 0) return Number(number) * DAYS_IN[inUnit]!;
  throw new InvalidArgumentError('It must be a number with d, w, m or y, such as 2y.');
}
