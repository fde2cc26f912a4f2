/**
 * Feeds drawn from the published flows at the breast, as cumulative curves in mL over minutes.
 *
 * Published values are used as they are; for values that are not published the plain draws have no spread. Where an assumption
 * matters there is a harder draw beside the plain one, and the bench reports both.
 * Grams are converted to mL by 1.03 g/mL. Sources:
 *
 * Howie et al. 1981, Early Hum Dev 5:71. Days 5-7, test weighing every 5 min: initial flow 6 g/min (SD 4.2, range 1-14),
 *   intake 70.9 g (SD 20.5, 42-125), duration 17.3 min (SD 3.1, 7-30). Intake went with the initial flow.
 * Lucas P, Lucas A, Baum 1980, Pediatr Res 14:179. Day 6, one breast: 50 % by 2 min, 85 % by 4 min (means).
 * Lucas, Lucas, Baum 1981, Early Hum Dev 5:195. Day 6, both breasts: 75 mL in 25 min, 84 % of it in minutes 0-4 or 15-19.
 *   Its ± 6 mL is a standard error and says nothing about single babies; babies are spread like Howie's (same age).
 */
import type { Draws } from './distributions.ts';

const GRAMS_PER_ML = 1.03;

/** Increasing points [minute, mL], linear in between, from [0, 0]. */
export type Flow = readonly (readonly [minute: number, ml: number])[];

/** @returns mL taken until this minute */
export function intakeAt(flow: Flow, minute: number): number {
  let before = flow[0]!;
  for (const point of flow) {
    if (minute < point[0]) {
      const share = (minute - before[0]) / (point[0] - before[0]);
      return before[1] + share * (point[1] - before[1]);
    }
    before = point;
  }
  return before[1];
}

/**
 * Distribution of the initial flow; the three published figures leave it open.
 * `cut-normal`: N(6, 4.2) kept within 1-14; its draws come out at mean 6.6 and SD 3.3.
 * `same-moments`: beta on 1-14 with exactly mean 6 and SD 4.2. Such a wide spread in that range puts many draws at both ends.
 */
export type InitialFlow = 'cut-normal' | 'same-moments';
/**
 * Course of the flow; weighings every 5 min leave it open.
 * `flat`: the initial flow for 5 min, then constant to the end: no more than was weighed.
 * `falling`: after 5 min falling linearly to zero. `front-loaded`: also, the first 5 min as in Lucas 1980.
 */
export type Course = 'flat' | 'falling' | 'front-loaded';

/** From Howie. Draws with more than the whole intake in 5 min are impossible and drawn again, so that intake correlates with the initial flow. */
export function drawHowie(draws: Draws, initial: InitialFlow = 'cut-normal', course: Course = 'flat'): Flow {
  for (;;) {
    const gramsPerMin =
      initial === 'cut-normal'
        ? draws.normal(6, 4.2, 1, 14)
        : 1 + 13 * draws.beta((6 - 1) / 13, (4.2 / 13) ** 2);
    const totalMl = draws.normal(70.9, 20.5, 42, 125) / GRAMS_PER_ML;
    const minutes = draws.normal(17.3, 3.1, 7, 30);
    const firstMl = (5 * gramsPerMin) / GRAMS_PER_ML;
    if (firstMl > totalMl) continue;
    const points: [number, number][] = [[0, 0]];
    // 89 % by 5 min: continued from 85 % by 4 min at a falling rate (assumed).
    if (course === 'front-loaded') points.push([2, (firstMl * 0.5) / 0.89], [4, (firstMl * 0.85) / 0.89]);
    points.push([5, firstMl]);
    const steps = course === 'flat' ? 1 : 20;
    for (let step = 1; step <= steps; step += 1) {
      const share = step / steps;
      const done = course === 'flat' ? share : 1 - (1 - share) ** 2;
      points.push([5 + share * (minutes - 5), firstMl + (totalMl - firstMl) * done]);
    }
    return points;
  }
}

/** Both breasts on day 6 [Lucas 1981], each baby's share of it; the second breast begins at minute 15. */
function drawHalves(draws: Draws, halvesSd: number): { first: number; second: number } {
  const totalMl = 75 * draws.normal(1, 20.5 / 70.9, 42 / 70.9, 125 / 70.9);
  const share = halvesSd === 0 ? 0.5 : draws.normal(0.5, halvesSd, 0.2, 0.8);
  return { first: totalMl * share, second: totalMl * (1 - share) };
}

/** Flows of Lucas 1980 at 0, 2 and 4 min, of one breast's milk a minute: straight lines between them give 50 % and 35 %. */
const EMPTYING_PER_MIN = [0.2875, 0.2125, 0.1375] as const;

/**
 * From Lucas 1980, twice: flow falls linearly through 50 % and 85 %, then exponentially. The two points leave
 * one flow free; its middle value is used.
 * @param halvesSd spread of the first breast's share of the milk; not published, 0 in the plain draw
 */
export function drawEmptying(draws: Draws, halvesSd = 0): Flow {
  const { first, second } = drawHalves(draws, halvesSd);
  return [...emptying(0, 0, first, 15), ...emptying(15, first, second, 10)];
}

function emptying(fromMin: number, fromMl: number, ml: number, minutes: number): [number, number][] {
  const [at0, at2, at4] = EMPTYING_PER_MIN;
  const tailMin = 0.15 / at4;
  const points: [number, number][] = [];
  for (let minute = 0; minute <= minutes; minute += 0.25) {
    const late = minute - 2;
    const share =
      minute <= 2
        ? at0 * minute + ((at2 - at0) / 4) * minute ** 2
        : minute <= 4
          ? 0.5 + at2 * late + ((at4 - at2) / 4) * late ** 2
          : 0.85 + 0.15 * (1 - Math.exp(-(minute - 4) / tailMin));
    points.push([fromMin + minute, fromMl + share * ml]);
  }
  return points;
}

/** From Lucas 1981 alone: 84 % evenly in minutes 0-4 and 15-19, the rest evenly outside of them, 25 min. */
export function drawTwoHumps(draws: Draws, halvesSd = 0): Flow {
  const { first, second } = drawHalves(draws, halvesSd);
  const total = first + second;
  const slowMlPerMin = (0.16 * total) / 17;
  const by15 = 0.84 * first + 11 * slowMlPerMin;
  return [
    [0, 0],
    [4, 0.84 * first],
    [15, by15],
    [19, by15 + 0.84 * second],
    [25, total],
  ];
}

/** From both Lucas papers: each breast gives 50 % evenly to 2 min, 35 % to 4 min, 15 % slowly after; the second from minute 15. */
export function drawPiecewise(draws: Draws, halvesSd = 0): Flow {
  const { first, second } = drawHalves(draws, halvesSd);
  return [
    [0, 0],
    [2, 0.5 * first],
    [4, 0.85 * first],
    [15, first],
    [17, first + 0.5 * second],
    [19, first + 0.85 * second],
    [25, first + second],
  ];
}
