/** The published flows at the breast, as draws by name: plain ones, which should bring no cue, and harder ones. */

import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { type PaceProfile, SHIPPED_PROFILE } from '../../src/pacing/index.ts';
import { scaledProfile } from '../../src/pacing/profile/scaled-profile.ts';
import { drawEmptying, drawHowie, drawPiecewise, drawTwoHumps, type Flow } from './breast-flows.ts';
import {
  type AgeMonths,
  drawEvenSession,
  drawTwoEjections,
  drawTwoLetDowns,
  SESSIONS,
} from './breast-flows-by-age.ts';
import { type Draws, seededDraws } from './distributions.ts';
import { inputsOf, pace } from './pacing-inputs.ts';
import { suckOut } from './suck-trains.ts';

export interface PublishedDraw {
  name: string;
  draw: (draws: Draws) => Flow;
  /** What is assumed beyond the publication; null: nothing. */
  assumed: string | null;
  /** Mean intake at that age, mL, used as the usual feed. */
  usualMl: number;
}

/** Howie 1981, 70.9 g; and Lucas 1981. */
const HOWIE_ML = 70.9 / 1.03;
const LUCAS_ML = 75;

export const PUBLISHED_DRAWS: readonly PublishedDraw[] = [
  { name: 'Howie 1981', draw: (draws) => drawHowie(draws), assumed: null, usualMl: HOWIE_ML },
  { name: 'Lucas 1980, twice', draw: (draws) => drawEmptying(draws), assumed: null, usualMl: LUCAS_ML },
  { name: 'Lucas 1981', draw: (draws) => drawTwoHumps(draws), assumed: null, usualMl: LUCAS_ML },
  {
    name: 'Lucas 1980 and 1981, piecewise',
    draw: (draws) => drawPiecewise(draws),
    assumed: null,
    usualMl: LUCAS_ML,
  },
  {
    name: 'Howie 1981',
    draw: (draws) => drawHowie(draws, 'cut-normal', 'falling'),
    assumed: 'after 5 min falling, not even',
    usualMl: HOWIE_ML,
  },
  {
    name: 'Howie 1981',
    draw: (draws) => drawHowie(draws, 'cut-normal', 'front-loaded'),
    assumed: 'the first 5 min as by Lucas 1980, then falling',
    usualMl: HOWIE_ML,
  },
  {
    name: 'Howie 1981',
    draw: (draws) => drawHowie(draws, 'same-moments'),
    assumed: 'initial flow crowds at both ends (mean, SD and range all met)',
    usualMl: HOWIE_ML,
  },
  {
    name: 'Lucas 1980, twice',
    draw: (draws) => drawEmptying(draws, 0.1),
    assumed: 'halves 50 ± 10 %',
    usualMl: LUCAS_ML,
  },
  {
    name: 'Lucas 1981',
    draw: (draws) => drawTwoHumps(draws, 0.1),
    assumed: 'halves 50 ± 10 %',
    usualMl: LUCAS_ML,
  },
  {
    name: 'Lucas 1980 and 1981, piecewise',
    draw: (draws) => drawPiecewise(draws, 0.1),
    assumed: 'halves 50 ± 10 %',
    usualMl: LUCAS_ML,
  },
];

/** By age, one month to six. */
export const DRAWS_BY_AGE: readonly PublishedDraw[] = [
  ...([1, 3, 6] as const).flatMap((age: AgeMonths): PublishedDraw[] => [
    {
      name: `Kent 2013, ${age} mo`,
      draw: (draws) => drawEvenSession(draws, age),
      assumed: 'even flow',
      usualMl: SESSIONS[age].ml,
    },
    {
      name: `Kent 2013, ${age} mo`,
      draw: (draws) => drawTwoLetDowns(draws, age),
      assumed: 'two let-downs of the shape of Lucas 1980',
      usualMl: SESSIONS[age].ml,
    },
  ]),
  {
    name: 'Kent 2006, 1-6 mo',
    draw: (draws) => drawTwoEjections(draws),
    assumed: 'two ejections on one side with the share of milk that a PUMP gets (Idei 2024)',
    usualMl: 76 / 1.03,
  },
];

/** The rules run at 20 Hz in use; sucks are a second apart, so steps of a fifth of a second find the same crossings (tests/pacing/published-flows). */
const DRAW_STEP_SEC = 0.2;

export interface DrawResult {
  silentShare: number;
  /** First tilt-down of each feed that had one. */
  fired: { seed: number; atSec: number; because: string; byPouring: boolean }[];
  meanTotalMl: number;
}

/** `population`: the mean at that age. `own`: the baby's own, known to 20 %. */
export type UsualFeed = 'population' | 'own';

/** The profile of a family that entered a usual feed and no minutes. */
function familyProfile(
  published: PublishedDraw,
  totalMl: number,
  usual: UsualFeed,
  draws: Draws,
): PaceProfile {
  const usualFeedMl =
    usual === 'population'
      ? published.usualMl
      : Math.min(300, Math.max(20, totalMl * draws.normal(1, 0.2, 0.5, 1.5)));
  return scaledProfile({ usualFeedMl, strictness: 'usual' }).profile;
}

/**
 * Feeds with seeds 1 to `count`, each through all of pacing, suck by suck.
 * @param usual the usual feed to which the profile is scaled; absent: the shipped profile
 */
export function runDraw(
  published: PublishedDraw,
  count: number,
  usual?: UsualFeed,
  stepSec = DRAW_STEP_SEC,
): DrawResult {
  const fired: DrawResult['fired'] = [];
  let totalMl = 0;

  for (let seed = 1; seed <= count; seed += 1) {
    const draws = seededDraws(seed);
    const flow = published.draw(draws);
    const endSec = flow.at(-1)![0] * 60;
    totalMl += flow.at(-1)![1];

    const sucks = suckOut(flow, draws);
    const profile = usual ? familyProfile(published, flow.at(-1)![1], usual, draws) : SHIPPED_PROFILE;
    const { cues } = pace(inputsOf({ sucks, endSec, stepSec }), null, { profile });
    const cue = cues.find((one) => one.kind === 'tilt-down');
    if (cue === undefined) continue;
    fired.push({
      seed,
      atSec: cue.atSec,
      because: becauseText(cue.because, 'en'),
      byPouring: becauseText(cue.because, 'en').endsWith(
        `of ${profile.buckets.pouring.rateMlPerMin.value} mL/min.`,
      ),
    });
  }
  return {
    silentShare: 1 - fired.length / count,
    fired,
    meanTotalMl: totalMl / count,
  };
}
