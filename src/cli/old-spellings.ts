/** Spellings of the previous version still work for one version, with a hint about the new ones. Delete this file in the next version. */

const MOVED: Readonly<Record<string, string>> = {
  graph: 'feeds graph',
  again: 'feeds again',
  whose: 'feeds whose',
  'write-feed': 'feeds add',
  export: 'feeds export',
  import: 'feeds import',
  backup: 'data backup',
  restore: 'data restore',
  archive: 'data archive',
  forget: 'data forget',
  'check-store': 'data check',
  'feeding-plan': 'print feeding-plan',
  'day-sheet': 'print day-sheet',
  calibrate: 'sleeve calibrate',
  calibrations: 'sleeve calibrations',
  'check-sleeve': 'sleeve check',
};

/** Key: the command in its old spelling. */
const RENAMED: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  calibrate: { '--bottle': '--way', '--bottle-name': '--bottle' },
  archive: { '--to': '--into' },
  plan: { '--bottles': '--most-bottles' },
};

const DAY = /^\d{4}-\d{2}-\d{2}$/;
const TAKES_A_TEXT = ['--day', '--note', '--baby', '--out'];

/** @returns the call in the present spelling, and a sentence for each part that was spelled differently */
export function spelledAsNow(typed: readonly string[]): { args: string[]; changes: string[] } {
  const [command, ...rest] = typed;
  if (command === undefined) return { args: [], changes: [] };
  const changes: string[] = [];
  const args = rest.map((arg) => {
    const [flag = '', ...value] = arg.split('=');
    const renamed = RENAMED[command]?.[flag];
    if (renamed === undefined) return arg;
    changes.push(`${flag} is now ${renamed}.`);
    return [renamed, ...value].join('=');
  });
  if (command === 'day' || command === 'week') {
    const at = args.findIndex((arg, i) => DAY.test(arg) && !TAKES_A_TEXT.includes(args[i - 1] ?? ''));
    if (at >= 0) {
      changes.push(`A day is now given as --day ${args[at]}.`);
      args.splice(at, 0, '--day');
    }
  }
  const moved = MOVED[command];
  if (moved === undefined) return { args: [command, ...args], changes };
  // Without --out it wrote to standard output.
  if (command === 'graph' && !args.some((arg) => /^(--out|--help|-h)\b/.test(arg))) args.push('--out', '-');
  return {
    args: [...moved.split(' '), ...args],
    changes: [`"ebbline ${command}" is now "ebbline ${moved}".`, ...changes],
  };
}
