/** Options that several commands share, each with one meaning everywhere, and the parsers of their values. */
import { type Command, InvalidArgumentError, Option } from 'commander';
import { dayAfter } from '../base/calendar.ts';

export const simulatedOption = () => new Option('--simulated', 'of the simulated sleeve, not of a real one');
export const jsonOption = (what = 'as JSON') => new Option('--json', what);
export const forceOption = () => new Option('--force', 'write over a file that is there');
export const babyOption = (what = 'which baby, where there are several') => new Option('--baby <name>', what);
export const dayOption = (without: string) =>
  new Option('--day <date>', `YYYY-MM-DD; without it ${without}`).argParser(dayText);
export const languageOption = () =>
  new Option('--language <language>', 'in which language').choices(['en', 'es']).default('en');
export const unitOption = () =>
  new Option('--unit <unit>', 'which unit stands first').choices(['fl-oz', 'ml']).default('fl-oz');
export const numberOption = (flags: string, what: string, parse: (text: string) => number) =>
  new Option(flags, what).argParser(parse);

/** A broker, a place on it, and the login. */
export function addBrokerOptions(command: Command, isNeeded: boolean): Command {
  const options = [
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
  for (const option of options) command.addOption(option);
  return command;
}

/** A database server instead of the data folder. The password is not an option, since other users of the computer can read command lines. */
export function addDatabaseOptions(
  command: Command,
  { withAddress = true, isShown = true }: { withAddress?: boolean; isShown?: boolean } = {},
): Command {
  const options = [
    ...(withAddress
      ? [
          new Option(
            '--database <address>',
            'feeds of a PostgreSQL server instead of the data folder, such as postgres://ward@db.example/feeds',
          ),
        ]
      : []),
    ...(command.options.some(({ long }) => long === '--site')
      ? []
      : [new Option('--site <name>', 'with a database: whose rows; else EBBLINE_SITE, or "home"')]),
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
  for (const option of options) command.addOption(isShown ? option : option.hideHelp());
  return command;
}

/** For the default verb of a noun: a misspelled verb arrives as its argument and is reported as unknown. */
export const refuseOtherVerbs = (verb: Command): Command =>
  verb.allowExcessArguments().hook('preAction', ({ args: [other] }) => {
    if (other !== undefined) verb.error(`error: unknown command '${other}'`);
  });

const numberWhere =
  (isRight: (value: number) => boolean, otherwise: string) =>
  (text: string): number => {
    const value = Number(text);
    if (text.trim() === '' || !Number.isFinite(value) || !isRight(value))
      throw new InvalidArgumentError(otherwise);
    return value;
  };

export const positive = numberWhere((value) => value > 0, 'It must be a number above zero.');
export const notNegative = numberWhere((value) => value >= 0, 'It must be a number, 0 or more.');
export const anyNumber = numberWhere(() => true, 'It must be a number.');
export const wholeNumber = numberWhere(
  (value) => Number.isInteger(value) && value >= 1,
  'It must be a whole number above zero.',
);
export const portNumber = numberWhere(
  (value) => Number.isInteger(value) && value >= 0 && value <= 65535,
  'It must be a whole number from 0 to 65535.',
);
export const sleeveNumber = numberWhere(
  (value) => Number.isInteger(value) && value >= 0 && value < 2 ** 32,
  'It must be a whole number, 0 or more.',
);
/** Days of 100 on which milk may run short. */
export const shortDays = numberWhere(
  (value) => value >= 1 && value <= 50,
  'It must be a number from 1 to 50.',
);

/** @returns the given day @throws InvalidArgumentError if there is no such day */
export function dayText(text: string): string {
  try {
    dayAfter(text);
    return text;
  } catch {
    throw new InvalidArgumentError('It must be a day as YYYY-MM-DD.');
  }
}

const DAYS_IN = { d: 1, w: 7, m: 365.25 / 12, y: 365.25 } as const;

/** @returns days in "90d", "26w", "18m", "2y" @throws InvalidArgumentError */
export function ageDays(text: string): number {
  const [, number, unit] = text.match(/^(\d{1,4})([dwmy])$/) ?? [];
  if (number === undefined || Number(number) === 0) {
    throw new InvalidArgumentError('It must be a number with d, w, m or y, such as 2y.');
  }
  return Number(number) * DAYS_IN[unit as keyof typeof DAYS_IN];
}
