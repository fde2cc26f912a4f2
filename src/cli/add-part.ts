/** Commands as data become commander's. */
import { Argument, type Command, Option } from 'commander';
import type { Flags, Given, Part, Reading, Verbs } from './definition.ts';

/** Adds commands in their order, and the nouns that they stand under. */
export function addPart<V extends Verbs>(program: Command, { nouns = {}, verbs, load }: Part<V>): void {
  for (const path in verbs) {
    const { about, also = [], isDefault = false, isHidden = false, ...own } = verbs[path]!;
    const command = nounOf(program, path, nouns)
      .command(lastOf(path), { isDefault, hidden: isHidden })
      .description(about);
    addFlags(command, own, ...also);
    // A misspelled verb comes to the default one as an argument.
    if (isDefault)
      command.allowExcessArguments().hook('preAction', ({ args: [other] }) => {
        if (other !== undefined) command.error(`error: unknown command '${other}'`);
      });
    command.action(async (...values) => {
      const given: Record<string, unknown> = {};
      for (const [i, argument] of command.registeredArguments.entries())
        if (values[i] !== undefined) given[argument.name()] = values[i];
      await (await load()).runs[path](Object.assign(given, command.opts<Given<V[typeof path]>>()));
    });
  }
}

const lastOf = (path: string): string => path.slice(path.lastIndexOf(' ') + 1);

function nounOf(program: Command, path: string, nouns: Readonly<Record<string, string>>): Command {
  if (!path.includes(' ')) return program;
  const noun = path.slice(0, path.lastIndexOf(' '));
  const above = nounOf(program, noun, nouns);
  const name = lastOf(noun);
  return (
    above.commands.find((one) => one.name() === name) ?? above.command(name).description(nouns[noun] ?? '')
  );
}

export function addFlags(command: Command, ...all: readonly Flags[]): void {
  for (const [flag, said] of all.flatMap((flags) => Object.entries(flags))) {
    const reading = typeof said === 'string' ? { about: said } : said;
    if (flag.startsWith('-')) command.addOption(optionOf(flag, reading));
    else command.addArgument(shaped(new Argument(flag, reading.about), reading));
  }
}

function optionOf(flag: string, reading: Reading<unknown>): Option {
  const option = shaped(new Option(flag, reading.about), reading);
  option.makeOptionMandatory(reading.isNeeded ?? false);
  return reading.excludes === undefined ? option : option.conflicts(reading.excludes);
}

function shaped<O extends Option | Argument>(one: O, { read, words, otherwise }: Reading<unknown>): O {
  if (words) one.choices(words.map(String));
  if (read) one.argParser(read);
  one.default(otherwise);
  return one;
}
