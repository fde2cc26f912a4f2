/** Shell completion, generated from the commands' own definitions. */
import { type Command, Help, type Option } from 'commander';

export const SHELLS = ['bash', 'zsh', 'fish'] as const;
export type Shell = (typeof SHELLS)[number];

export interface Candidate {
  word: string;
  about: string;
}

/** The script for a shell. It calls `ebbline complete`, which prints one "word<TAB>description" a line. */
export const SCRIPTS: Readonly<Record<Shell, string>> = {
  bash: `_ebbline() {
  local IFS=$'\\n'
  COMPREPLY=($(ebbline complete -- "\${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null | cut -f1))
}
complete -o default -F _ebbline ebbline
`,
  zsh: `#compdef ebbline
_ebbline() {
  local -a found
  found=("\${(@f)$(ebbline complete -- "\${(@)words[2,CURRENT]}" 2>/dev/null)}")
  found=("\${(@)found//$'\\t'/:}")
  if [[ -n "\${found[1]}" ]]; then _describe 'ebbline' found; else _files; fi
}
compdef _ebbline ebbline
`,
  fish: `complete -c ebbline -a '(ebbline complete -- (commandline -opc)[2..-1] (commandline -ct) 2>/dev/null)'
`,
};

/** The verb used when a noun is called without one. */
const DEFAULT_VERB = 'list';

/** @param words as typed after the program's name; the last one is incomplete and may be empty */
export function candidatesFor(program: Command, words: readonly string[]): Candidate[] {
  const done = words.slice(0, -1);
  const begun = words.at(-1) ?? '';
  let command = program;
  let place = 0;
  let awaits: Option | null = null;
  for (const word of done) {
    const verb: Command | undefined = awaits
      ? undefined
      : verbsOf(command).find((one) => one.name() === word);
    if (verb) [command, place] = [verb, 0];
    else if (awaits || !word.startsWith('-')) [awaits, place] = [null, place + (awaits ? 0 : 1)];
    else
      awaits =
        optionsOf(command).find(
          (option) => [option.long, option.short].includes(word) && takesValue(option),
        ) ?? null;
  }
  return possible(command, place, awaits, begun).filter(({ word }) => word.startsWith(begun));
}

function possible(command: Command, place: number, awaits: Option | null, begun: string): Candidate[] {
  if (awaits) return (awaits.argChoices ?? []).map((word) => ({ word, about: '' }));
  if (begun.startsWith('-'))
    return optionsOf(command).map(({ long, short, description }) => ({
      word: long ?? short ?? '',
      about: description,
    }));
  const choices = command.registeredArguments[place]?.argChoices ?? [];
  return [
    ...verbsOf(command).map((verb) => ({ word: verb.name(), about: verb.description() })),
    ...choices.map((word) => ({ word, about: '' })),
  ];
}

const takesValue = ({ required, optional }: Option): boolean => required || optional;

/** Unlike the program's own help, which names the verbs of all nouns. */
const plainHelp = new Help();

const verbsOf = (command: Command): readonly Command[] => plainHelp.visibleCommands(command);

function optionsOf(command: Command): readonly Option[] {
  const verb = command.commands.find((one) => one.name() === DEFAULT_VERB);
  return [command, ...(verb ? [verb] : [])].flatMap((one) => plainHelp.visibleOptions(one));
}
