/** The published flows at the breast, as draws by name: the plain ones that pacing must leave in peace, and harder ones. */
import { drawEmptying, drawHowie, drawPiecewise, drawTwoHumps, type Flow } from './breast-flows.ts';
import { type Draws, seededDraws } from './distributions.ts';
import { inputsOf, pace } from './pacing-inputs.ts';
import { suckOut } from './suck-trains.ts';

export interface PublishedDraw {
  name: string;
  draw: (draws: Draws) => Flow;
  /** Nothing assumed beyond what was published, or an assumption that is marked. */
  assumed: string | null;
}

export const PUBLISHED_DRAWS: readonly PublishedDraw[] = [
  { name: 'Howie 1981', draw: (draws) => drawHowie(draws), assumed: null },
  { name: 'Lucas 1980, twice', draw: (draws) => drawEmptying(draws), assumed: null },
  { name: 'Lucas 1981', draw: (draws) => drawTwoHumps(draws), assumed: null },
  { name: 'Lucas 1980 and 1981, piecewise', draw: (draws) => drawPiecewise(draws), assumed: null },
  {
    name: 'Howie 1981',
    draw: (draws) => drawHowie(draws, 'cut-normal', 'falling'),
    assumed: 'after 5 min falling, not even',
  },
  {
    name: 'Howie 1981',
    draw: (draws) => drawHowie(draws, 'cut-normal', 'front-loaded'),
    assumed: 'the first 5 min as by Lucas 1980, then falling',
  },
  {
    name: 'Howie 1981',
    draw: (draws) => drawHowie(draws, 'same-moments'),
    assumed: 'initial flow crowds at both ends (mean, SD and range all met)',
  },
  { name: 'Lucas 1980, twice', draw: (draws) => drawEmptying(draws, 0.1), assumed: 'halves 50 ± 10 %' },
  { name: 'Lucas 1981', draw: (draws) => drawTwoHumps(draws, 0.1), assumed: 'halves 50 ± 10 %' },
  {
    name: 'Lucas 1980 and 1981, piecewise',
    draw: (draws) => drawPiecewise(draws, 0.1),
    assumed: 'halves 50 ± 10 %',
  },
];

export interface DrawResult {
  silentShare: number;
  /** First tilt-down of each feed that had one. */
  fired: { seed: number; atSec: number; because: string; byPouring: boolean }[];
  meanTotalMl: number;
}

/** Feeds with seeds 1 to `count`, each through the whole of pacing in suck-sized portions. */
export function runDraw({ draw }: PublishedDraw, count: number): DrawResult {
  const fired: DrawResult['fired'] = [];
  let totalMl = 0;

  for (let seed = 1; seed <= count; seed += 1) {
    const draws = seededDraws(seed);
    const flow = draw(draws);
    const endSec = flow.at(-1)![0] * 60;
    totalMl += flow.at(-1)![1];

    const { cues } = pace(inputsOf({ sucks: suckOut(flow, draws), endSec }));
    const cue = cues.find((one) => one.kind === 'tilt-down');
    if (cue === undefined) continue;
    fired.push({
      seed,
      atSec: cue.atSec,
      because: cue.because,
      byPouring: cue.because.endsWith('of 14 mL/min.'),
    });
  }
  return {
    silentShare: 1 - fired.length / count,
    fired,
    meanTotalMl: totalMl / count,
  };
}
