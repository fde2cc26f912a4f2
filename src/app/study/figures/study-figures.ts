/** A study's figures as SVG and PDF, and the numbers of all comparisons as a table. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { stringify } from 'csv-stringify/sync';
import { PlainError } from '../../../base/errors.ts';
import { figurePdf } from '../../../paper/study/figure-pdf.ts';
import { EXPORT_WORDS } from '../../../research/export/export-words.ts';
import type { SessionBrief } from '../../../research/group/brief.ts';
import { curvesByArm } from '../../../research/group/curves.ts';
import { type Outcome, outcomeOf } from '../../../research/group/outcomes.ts';
import { PUBLISHED_CURVES } from '../../../research/group/published-curves.ts';
import { INDEX_KEYS, INDICES, type IndexKey } from '../../../research/indices/definitions.ts';

import { pooledSd } from '../../../research/statistics/effects.ts';
import type { Protocol } from '../../../research/study/protocol.ts';
import { forestGraphSvg, groupGraphSvg, STUDY_FIGURE_WORDS } from '../../../review/index.ts';

/** Drawn as forest plots; the table of comparisons holds all indices. */
const FORESTS: readonly IndexKey[] = [
  'transferRateMlPerMin',
  'durationMin',
  'intakeMl',
  'flowP90MlPerMin',
  'pauseLengthSec',
];

export interface Figure {
  name: string;
  title: string;
  svg: string;
}

/** Data of a study that the figures need. */
export type Drawn = Pick<Protocol, 'title' | 'language'>;

/** The curves, and a forest plot for each index that at least one feed has. */
export function figuresOf({ title, language }: Drawn, briefs: readonly SessionBrief[]): Figure[] {
  const curvesTitle = STUDY_FIGURE_WORDS[language].curves(title);
  const forests = FORESTS.map((index) => outcomeOf(briefs, index)).filter(
    ({ participants }) => participants.length > 0,
  );
  return [
    {
      name: 'curves',
      title: curvesTitle,
      svg: groupGraphSvg(curvesByArm(briefs), PUBLISHED_CURVES, { title: curvesTitle, language }),
    },
    ...forests.map((outcome) => forestOf(outcome, language)),
  ];
}

function forestOf(outcome: Outcome, language: Drawn['language']): Figure {
  const { index } = outcome;
  const { unit } = INDICES[index];
  const { label: title } = EXPORT_WORDS[language].index(index);
  const svg = forestGraphSvg(outcome, { title, unit, language });
  return { name: `forest-${index}`, title, svg };
}

const HEADS = [
  ...['index', 'unit', 'first_arm', 'first_n', 'first_mean', 'first_sd', 'second_arm', 'second_n'],
  ...['second_mean', 'second_sd', 'difference', 'difference_low', 'difference_high'],
  ...['hedges_g', 'hedges_g_low', 'hedges_g_high', 'pooled_sd', 'design', 'sessions_missing'],
];

/** All comparisons of arms, second less first, each with its interval of 95 %. @returns CSV */
export function comparisonsCsv(briefs: readonly SessionBrief[]): string {
  const rows = INDEX_KEYS.map((index) => outcomeOf(briefs, index)).flatMap(({ index, effects, missing }) =>
    effects.map(({ first, second, design, effect: { first: a, second: b, difference, hedgesG } }) => [
      ...[index, INDICES[index].unit, first, a.n, a.mean, a.sd, second, b.n, b.mean, b.sd],
      ...[difference.value, difference.low, difference.high],
      ...[
        hedgesG?.value ?? null,
        hedgesG?.low ?? null,
        hedgesG?.high ?? null,
        pooledSd(a, b),
        design,
        missing,
      ],
    ]),
  );
  return stringify([HEADS, ...rows], { record_delimiter: '\r\n' });
}

/** @param folder created if needed; existing files are not overwritten @returns names of the files @throws PlainError figures-taken */
export async function writeFigures(
  study: Drawn,
  briefs: readonly SessionBrief[],
  folder: string,
): Promise<string[]> {
  if (fs.existsSync(folder) && fs.readdirSync(folder).length > 0) {
    throw new PlainError(
      'figures-taken',
      `There is something in ${folder} already.`,
      'Name a folder that does not exist yet, with --out.',
    );
  }
  fs.mkdirSync(folder, { recursive: true, mode: 0o700 });
  const written: string[] = [];
  const write = (name: string, content: string | Uint8Array): void => {
    fs.writeFileSync(join(folder, name), content, { mode: 0o600 });
    written.push(name);
  };
  for (const { name, title, svg } of figuresOf(study, briefs)) {
    write(`${name}.svg`, svg);
    write(`${name}.pdf`, await figurePdf(svg, { title, alt: altOf(svg), language: study.language }));
  }
  write('comparisons.csv', comparisonsCsv(briefs));
  return written;
}

const altOf = (svg: string): string => /<desc[^>]*>([^<]*)<\/desc>/.exec(svg)?.[1] ?? '';
