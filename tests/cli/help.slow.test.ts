import { beforeAll, describe, expect, it } from 'vitest';
import packageJson from '../../package.json' with { type: 'json' };
import { requireBuild, runCommand } from '../support/command.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

beforeAll(requireBuild);

const run = (...args: string[]) => runCommand(args, { data: temporaryFolder() });

describe('help', () => {
  it('tells a first-time user what this is, what it is not, and what to type first', async () => {
    const { code, stdout, stderr } = await run('--help');
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toContain('keep a gentle pace');
    expect(stdout).toContain('Not a medical device or an alarm. Watch the baby, not the sleeve.');
    // Every command, with its verbs.
    for (const command of ['start', 'replay', 'feeds list', 'feeds graph', 'milk add', 'data backup'])
      expect(stdout).toMatch(new RegExp(`^  ${command} `, 'm'));
    // The commands that the help names work as they stand: a simulated feed is listed with --simulated.
    expect(stdout).toMatch(
      /First time\?[\s\S]*ebbline start[\s\S]*ebbline feeds --simulated[\s\S]*ebbline feeds graph --simulated/,
    );
    expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  it.each([
    [
      'start',
      [
        '--port <device>',
        '/dev/ttyUSB0',
        '--calibration <file>',
        '--page-port <number>',
        '--scenario <name>',
        '--list-scenarios',
        'default: 1',
      ],
    ],
    [
      'replay',
      [
        'capture file (.cap, .cap.gz or .cap.cols)',
        '--calibration <file>',
        '--portion-ml <number>',
        '--json',
      ],
    ],
    ['feeds list', ['--simulated', '--discarded', '--json', '--page <number>']],
    ['milk add', ['--amount <amount>', '--place <place>', '--at <time>']],
    ['sleeve calibrate', ['--way <way>', 'two-minutes', '--bottle <name>', '--force']],
    ['feeds export', ['--out <folder>', '--from <date>', '--to <date>', '--baby <name>', '--captures']],
    ['feeds import', ['ebbline.jsonl', 'hand-feeds.csv', 'left as they are']],
    ['data backup', ['--out <file>', 'also while a feed is recorded']],
    ['data restore', ['--replace', 'stays beside it']],
    ['data archive', ['--older-than <age>', '--into <folder>', '--remove', '--from-now-on', '--stop']],
    ['data forget', ['for good', '--yes']],
    [
      'feeds graph',
      [
        'without it the latest one',
        '.svg, .png, .html or .pdf',
        '--out <file>',
        '--note <text>',
        '--names',
        '--unit <unit>',
      ],
    ],
    ['day', ['without it today', '--out <file>', 'ending in .html', '--baby <name>']],
    ['week', ['the seven before', '--baby <name>']],
    ['feeds add', ['breast', 'refused', '--at <time>', '--again', '--offered-ml <number>', '--side <side>']],
  ])('of %s names every option with what it is for', async (command, lines) => {
    const { code, stdout } = await run(...command.split(' '), '--help');
    expect(code).toBe(0);
    const text = stdout.replaceAll(/\s+/g, ' ');
    for (const line of lines) expect(text).toContain(line);
    // No option without words.
    for (const option of stdout.match(/^ {2}(-.*)$/gm) ?? []) expect(option).toMatch(/\s{2,}\S+|>$/);
  });

  it('lists the simulated feeds, each in one line', async () => {
    const { code, stdout } = await run('start', '--list-scenarios');
    expect(code).toBe(0);
    const lines = stdout.trim().split('\n');
    expect(lines.length).toBeGreaterThanOrEqual(6);
    for (const line of lines) expect(line).toMatch(/^[a-z-]+ +[A-Z].*\.$/);
  });

  it('says its version', async () => {
    const { code, stdout } = await run('--version');
    expect({ code, stdout: stdout.trim() }).toEqual({ code: 0, stdout: packageJson.version });
  });
});

describe('a wrong call', () => {
  it.each([
    [['replay'], /missing required argument 'capture'|required option/],
    [['replay', 'some.cap'], /required option '--calibration <file>' not specified/],
    [
      ['replay', 'some.cap', '--calibration', 'some.json', '--portion-ml', 'much'],
      /--portion-ml.*invalid.*above zero/,
    ],
    [
      ['replay', 'some.cap', '--calibration', 'some.json', '--portion-ml', '0'],
      /--portion-ml.*invalid.*above zero/,
    ],
    [['replay', 'some.cap', 'more.cap', '--calibration', 'some.json'], /too many arguments/],
    [['start', '--page-port', '99999'], /--page-port.*invalid.*0 to 65535/],
    [['start', '--speed', '-1'], /--speed.*invalid.*above zero/],
    [['start', '--everything'], /unknown option '--everything'/],
    [['frobnicate'], /unknown command 'frobnicate'/],
  ])(
    'ebbline %j ends with code 2, says what is wrong and where help is, and writes nothing else',
    async (args, says) => {
      const { code, stdout, stderr } = await run(...args);
      expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
      expect(stderr).toMatch(says);
      expect(stderr).toContain('--help');
    },
  );
});
