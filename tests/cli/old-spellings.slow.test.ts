/** Spellings of the version before still work, with a hint about the new ones. */
import { beforeAll, describe, expect, it } from 'vitest';
import { spelledAsNow } from '../../src/cli/old-spellings.ts';
import { requireBuild, runCommand } from '../support/command.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

beforeAll(requireBuild);

describe('a call as it was spelled before', () => {
  it.each([
    ['graph f-1 --out a.pdf', 'feeds graph f-1 --out a.pdf', 1],
    ['graph', 'feeds graph --out -', 1],
    ['day 2026-11-24 --out day.html', 'day --day 2026-11-24 --out day.html', 1],
    ['week --simulated 2026-11-24', 'week --simulated --day 2026-11-24', 1],
    [
      'calibrate --bottle two-minutes --bottle-name=green',
      'sleeve calibrate --way two-minutes --bottle=green',
      3,
    ],
    ['archive --older-than 2y --to away', 'data archive --older-than 2y --into away', 2],
    ['plan --bottles 4', 'plan --most-bottles 4', 1],
    ['write-feed breast --at 14:05', 'feeds add breast --at 14:05', 1],
  ])('%s', (typed, now, changes) => {
    const spelled = spelledAsNow(typed.split(' '));
    expect([spelled.args.join(' '), spelled.changes.length]).toEqual([now, changes]);
  });

  it.each([
    'feeds graph f-1',
    'day --day 2026-11-24',
    'sleeve calibrate --bottle green --way outline',
    'feeds export --to 2026-11-24',
    'milk add 3 --amount 90mL',
    '--help',
    '',
  ])('leaves "%s" as it is', (typed) => {
    const args = typed === '' ? [] : typed.split(' ');
    expect(spelledAsNow(args)).toEqual({ args, changes: [] });
  });

  it('works, and the new spelling is named on standard error', async () => {
    const { code, stdout, stderr } = await runCommand(['whose', '--json'], { data: temporaryFolder() });
    expect({ code, stdout }).toEqual({ code: 0, stdout: '[]\n' });
    expect(stderr).toBe(
      'ebbline: "ebbline whose" is now "ebbline feeds whose". The old spelling works until the next version.\n',
    );
  });
});
