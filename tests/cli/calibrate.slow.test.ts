import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Talk, walkThrough } from '../../src/app/calibration/guided-walk.ts';
import { simulatedHolds } from '../../src/app/calibration/hold-source.ts';
import { keepProgress, outlineFrom, progressFrom } from '../../src/app/calibration/walk-files.ts';
import { nextStep, startWalk, type WalkState } from '../../src/calibration/walk/walk-state.ts';
import { calibrate } from '../../src/cli/sleeve/calibrate.ts';
import type { SleeveGiven } from '../../src/cli/sleeve/commands.ts';
import { readCalibration } from '../../src/sensing/index.ts';

let folder: string;
let printed = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'ebbline-calibrate-'));
  printed = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed += String(text);
    return true;
  });
});
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true });
});

const options = (more: Partial<SleeveGiven<'sleeve calibrate'>> = {}): SleeveGiven<'sleeve calibrate'> => ({
  simulated: true,
  byItself: true,
  seed: 3,
  out: join(folder, 'mine.json'),
  way: 'two-minutes',
  bottle: 'blue',
  placements: 4,
  ...more,
});

describe('ebbline sleeve calibrate --simulated --by-itself', () => {
  it('writes a calibration that the rest reads, a page and a PDF, and forgets the walk', async () => {
    await calibrate(options());
    const calibration = readCalibration(readFileSync(join(folder, 'mine.json'), 'utf8'), 'mine.json');
    expect(calibration).toMatchObject({ sleeveNumber: 3, simulated: true });
    expect(readFileSync(join(folder, 'mine-certificate.html'), 'utf8')).toContain('In simulation');
    const pdf = readFileSync(join(folder, 'mine-certificate.pdf'));
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    expect(pdf.toString('latin1')).toMatch(/FontFile2|FontFile3/);
    expect(existsSync(join(folder, 'mine.json.walk'))).toBe(false);
    expect(printed).toMatch(/in simulation until a kitchen check/);
    // A second run would overwrite the calibration, so it is refused.
    await expect(calibrate(options())).rejects.toMatchObject({ code: 'file-exists' });
  });

  it('takes another bottle with the sleeve of an earlier calibration, and says what a generic profile is', async () => {
    await calibrate(options());
    const again = { ...options(), out: join(folder, 'green.json'), bottle: 'green' };
    await calibrate({ ...again, sleeveFrom: join(folder, 'mine.json') });
    const green = readCalibration(readFileSync(join(folder, 'green.json'), 'utf8'), 'green.json');
    const mine = readCalibration(readFileSync(join(folder, 'mine.json'), 'utf8'), 'mine.json');
    expect(green.bottle).toMatchObject({ name: 'green', profileFrom: 'generic profile' });
    expect(green.bottle.emptyMassGrams).not.toBeCloseTo(mine.bottle.emptyMassGrams, 1);
    expect(printed).toMatch(/generic profile of 5 points, fitted to the fillings/);
    await expect(
      calibrate({ ...again, force: true, fresh: true, sleeveFrom: join(folder, 'none.json') }),
    ).rejects.toThrow(/none-walk\.json/);
  });

  it('asks which sleeve, and does not play hands with a real one', async () => {
    const { simulated: _, ...none } = options();
    await expect(calibrate({ ...none, byItself: false })).rejects.toThrow(/Which sleeve/);
    await expect(calibrate({ ...none, port: '/dev/null-sleeve' })).rejects.toThrow(/real hands/);
  });
});

/** A person who types these answers, then Enter `enters` times, then leaves. */
function scripted(answers: string[], enters = 0): { talk: Talk; said: string[] } {
  const said: string[] = [];
  let left = enters;
  return {
    said,
    talk: {
      say: (text) => said.push(text),
      ask: async (question) => {
        said.push(question);
        return answers.shift() ?? (left-- > 0 ? '' : null);
      },
    },
  };
}

const fresh = (): WalkState =>
  startWalk({
    sleeveId: 'simulated-3',
    sleeveNumber: 3,
    simulated: true,
    startedAt: '2026-01-05T09:00:00Z',
  });

describe('the walk in a terminal', () => {
  it('keeps everything entered so far when the person leaves, and goes on from there', async () => {
    const path = join(folder, 'x.walk');
    const source = await simulatedHolds(3, null);
    const first = scripted([], 9);
    expect(
      await walkThrough({
        walk: fresh(),
        source,
        talk: first.talk,
        keep: (now) => keepProgress(path, now),
      }),
    ).toBeNull();
    const kept = progressFrom(path)!;
    expect(Object.keys(kept.holds)).toHaveLength(9);
    const second = scripted(['q']);
    await walkThrough({
      walk: kept,
      source: await simulatedHolds(3, kept),
      talk: second.talk,
      keep: () => {},
    });
    expect(second.said.join('\n')).toContain(nextStep(kept)!.id);
  });

  it('says what to do, what is still needed, and shows residuals live', async () => {
    const source = await simulatedHolds(3, null);
    const { talk, said } = scripted([], 30);
    await walkThrough({ walk: fresh(), source, talk, keep: () => {} });
    const all = said.join('\n');
    expect(all).toMatch(/Take everything out/);
    expect(all).toMatch(/not enough yet: .*Most helpful next/);
    expect(all).toMatch(/Put mass A \(200\.0 g\) at the base mark/);
    expect(all).toMatch(/residual \d\.\d\d g, largest so far/);
  });

  it('obeys: skip, back, repeat, help, unknown steps', async () => {
    const source = await simulatedHolds(3, null);
    let walk = fresh();
    const { talk, said } = scripted([
      '',
      's',
      'repeat empty-level',
      '',
      'b',
      '',
      'repeat nonsense',
      'what',
      'show',
      'q',
    ]);
    await walkThrough({
      walk,
      source,
      talk,
      keep: (now) => {
        walk = now;
      },
    });
    expect(walk.skipped).toEqual([]);
    expect(Object.keys(walk.holds).sort()).toEqual(['empty-level', 'empty-upright']);
    expect(said.join('\n')).toMatch(/no step "nonsense"[\s\S]*Enter takes the step[\s\S]*Not enough yet/);
  });
});

describe('files', () => {
  it('reads an outline, and says what is wrong with it', () => {
    const path = join(folder, 'outline.txt');
    writeFileSync(path, '10 24\n14, 28.5\n105; 27.5\n128 19\n');
    expect(outlineFrom(path)).toEqual([
      [10, 24],
      [14, 28.5],
      [105, 27.5],
      [128, 19],
    ]);
    writeFileSync(path, '10 24\n14');
    expect(() => outlineFrom(path)).toThrow(/3 numbers; each point needs two/);
    expect(() => outlineFrom(join(folder, 'none'))).toThrow(/cannot be read/);
  });

  it('does not take any file for a walk', () => {
    const path = join(folder, 'x.walk');
    expect(progressFrom(path)).toBeNull();
    writeFileSync(path, '{"version":1}');
    expect(() => progressFrom(path)).toThrow(/does not hold a calibration/);
    writeFileSync(path, 'not json');
    expect(() => progressFrom(path)).toThrow(/does not hold a calibration/);
  });
});
