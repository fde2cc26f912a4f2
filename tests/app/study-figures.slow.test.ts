/** A study's figures: the numbers of the curves, the same bytes each time, and arms that nobody can tell before the study is closed. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { parquetReadObjects } from 'hyparquet';
import { parseHTML } from 'linkedom';
import { describe, expect, it } from 'vitest';
import { closeStudy } from '../../src/app/study/blinding.ts';
import { exportStudy } from '../../src/app/study/export/study-export.ts';
import { studyBriefs } from '../../src/app/study/figures/study-briefs.ts';
import { comparisonsCsv, figuresOf, writeFigures } from '../../src/app/study/figures/study-figures.ts';
import type { SessionBrief } from '../../src/research/group/brief.ts';
import { curvesByArm } from '../../src/research/group/curves.ts';
import { readTurning } from '../support/captures.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { ALONE, START_MS, studyHere } from '../support/study.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

/** Steady feeds; the second arm has half the flow, and participants differ a little. */
function evenBriefs(): SessionBrief[] {
  return ['a', 'b'].flatMap((arm, which) =>
    [1, 2, 3, 4].flatMap((person) =>
      [1, 2].map((feed): SessionBrief => {
        const flow = (which === 0 ? 8 : 4) + (person - 2.5) * 0.4 + (feed - 1.5) * 0.2;
        const steps = Array.from({ length: 61 }, (_, i) => i);
        return {
          session: `${arm}${person}-00${feed}`,
          participant: `${arm}${person}`,
          arm,
          alignedAt: 'first-suck',
          lengthMin: 10,
          intakeMl: steps.map((i) => (flow * i) / 6),
          flowMlPerMin: steps.map(() => flow),
          indices: { transferRateMlPerMin: flow, intakeMl: flow * 10 },
          goodShare: 1,
        };
      }),
    ),
  );
}

const TWO_ARMS = { title: 'Two arms', language: 'en' } as const;

describe('the figures of a study', () => {
  it('draw each mean where the curve has it', () => {
    const briefs = evenBriefs();
    const [curves] = figuresOf(TWO_ARMS, briefs);
    const { document } = parseHTML(curves!.svg);
    // The lines of the arms are the thick ones: two of milk, two of flow.
    const lines = [...document.querySelectorAll('path')].filter((path) =>
      [path, path.parentElement!].some((one) => one.getAttribute('stroke-width') === '2'),
    );
    expect(lines.length).toBe(4);
    const ends = lines.map((path) => {
      const numbers = path
        .getAttribute('d')!
        .match(/-?[\d.]+/g)!
        .map(Number);
      return numbers.slice(-2) as [number, number];
    });
    const [a, b] = curvesByArm(briefs);
    expect(a!.intakeMl.at(-1)!.mean).toBeCloseTo(80, 10);
    // After ten minutes the arms took 80 and 40 mL, so the heights of their lines above the axis, and of their flows, are as two to one.
    for (const [first, second] of [
      [ends[0]!, ends[1]!],
      [ends[2]!, ends[3]!],
    ] as const) {
      expect(first[0]).toBe(second[0]);
      const groundPx = 2 * second[1] - first[1];
      const heights = first === ends[0] ? [80, 40] : [a!.flowMlPerMin[0]!.mean, b!.flowMlPerMin[0]!.mean];
      expect((groundPx - first[1]) / (groundPx - second[1])).toBeCloseTo(heights[0]! / heights[1]!, 6);
      expect(groundPx).toBeGreaterThan(first[1]);
    }
    expect(curves!.svg).toContain('Arm a (full line): 4 participants, 8 feeds.');
    expect(curves!.svg).toMatch(/Lucas, Lucas and Baum 1981/);
  });

  it('say each difference with its interval, and no chance without one', () => {
    const briefs = evenBriefs();
    const [row] = parse(comparisonsCsv(briefs), { columns: true }) as Record<string, string>[];
    // Participants vary by 0.4 · (−1.5 … 1.5): standard deviation 0.5164. Welch with 6 degrees of freedom: t = 2.447.
    expect(row).toMatchObject({
      index: 'intakeMl',
      first_arm: 'a',
      second_arm: 'b',
      first_n: '4',
      sessions_missing: '0',
    });
    expect(Number(row!.difference)).toBeCloseTo(-40, 9);
    expect(Number(row!.first_sd)).toBeCloseTo(5.164, 3);
    expect(Number(row!.difference_high) + 40).toBeCloseTo(2.447 * 5.164 * Math.sqrt(2 / 4), 3);
    const [, forest] = figuresOf(TWO_ARMS, briefs);
    expect(forest!.svg).toContain('b less a: -4.00 (95 % interval -4.89 to -3.11) mL/min');
    for (const { svg } of figuresOf(TWO_ARMS, briefs)) expect(svg).not.toMatch(/\bp\s*[=<]/);
  });

  it('speak the language of the study, with the same numbers', () => {
    const briefs = evenBriefs();
    const english = figuresOf(TWO_ARMS, briefs);
    const spanish = figuresOf({ title: 'Dos grupos', language: 'es' }, briefs);
    expect(spanish.map(({ name }) => name)).toEqual(english.map(({ name }) => name));
    const [curves, forest] = spanish;
    expect(curves!.title).toBe('Dos grupos: leche tomada y flujo');
    expect(curves!.svg).toContain('Grupo a (línea continua): 4 participantes, 8 tomas.');
    expect(curves!.svg).toContain('minutos desde la primera succión');
    expect(forest!.svg).toContain('b menos a: -4.00 (intervalo del 95 %: de -4.89 a -3.11) mL/min');
    for (const { svg } of spanish)
      expect(svg).not.toMatch(
        /\b(Arm|feeds?|means?|participants?|interval|minutes|breast|abstracts?|assumed)\b/,
      );
  });

  it('are the same bytes each time, as SVG and as PDF, and write over nothing', async () => {
    const folder = temporaryFolder();
    const all: Record<string, string>[] = [];
    for (const name of ['a', 'b']) {
      const out = join(folder, name);
      const written = await writeFigures(TWO_ARMS, evenBriefs(), out);
      expect(written).toEqual(expect.arrayContaining(['curves.svg', 'curves.pdf', 'comparisons.csv']));
      all.push(Object.fromEntries(written.map((file) => [file, readFileSync(join(out, file), 'latin1')])));
    }
    expect(all[0]).toEqual(all[1]);
    expect(all[0]!['curves.pdf']).toMatch(/^%PDF-1\.7/);
    await expect(writeFigures(TWO_ARMS, evenBriefs(), join(folder, 'a'))).rejects.toThrow(/already/);
  });

  it('are drawn also where a study has hardly anything', () => {
    for (const briefs of [[], evenBriefs().slice(0, 1)]) {
      const [curves] = figuresOf(TWO_ARMS, briefs);
      expect(curves!.svg).not.toMatch(/NaN|Infinity/);
      expect(comparisonsCsv(briefs).split('\r\n').length).toBe(2);
    }
  });
});

describe('before a study is closed', () => {
  it('neither an export nor a figure tells which arm is which; afterwards both do', async () => {
    const { study, store, folder } = studyHere({
      arms: [
        { code: 'zeta', cues: 'on' },
        { code: 'omega', cues: 'logged' },
      ],
    });
    recordFeed(store, { id: 'two', ...readTurning(), startMs: START_MS });
    study.enroll('F07', 'all');
    study.enroll('F08', 'all');
    study.bind('one', 'F07');
    study.bind('two', 'F08');
    const exported = async (name: string) => {
      const out = join(folder, name);
      const { smallCells } = await exportStudy(study, store, ALONE, { out, raw: true, softwareVersion: '1' });
      const files = readdirSync(out, { recursive: true, encoding: 'utf8', withFileTypes: true })
        .filter((one) => one.isFile())
        // The methods may name the arms; no file may tell which participant is in which.
        .filter((one) => one.name !== 'methods.md')
        .map((one) => readFileSync(join(one.parentPath, one.name), 'latin1'));
      const file = Uint8Array.from(readFileSync(join(out, 'sessions.parquet'))).buffer;
      const sessions = await parquetReadObjects({ file });
      return { text: files.join('\n') + smallCells.join(), arms: sessions.map(({ arm }) => arm), sessions };
    };
    const before = await exported('before');
    expect(/zeta|omega/.test(before.text)).toBe(false);
    expect([...before.arms].sort()).toEqual(['coded-1', 'coded-2']);
    expect(before.sessions.map(({ told_known }) => told_known)).toEqual([null, null]);
    expect(readFileSync(join(folder, 'before/methods.md'), 'utf8')).toContain('The study is not closed yet');
    closeStudy(study);
    expect(() => study.enroll('F09', 'all')).toThrow(/closed/);
    expect(() => study.bind('one', 'F07')).toThrow(/closed/);
    expect(() => closeStudy(study)).toThrow(/closed/);
    const after = await exported('after');
    expect(after.arms).toEqual(study.sessions().map(({ arm }) => arm));
    expect(after.text.includes('coded-1')).toBe(false);
    expect(/zeta|omega/.test(after.text)).toBe(true);
    const { briefs } = await studyBriefs(study, store, ALONE, null);
    expect(briefs.map(({ arm }) => arm)).toEqual(after.arms);
  });
});
