/**
 * Mean and spread of milk taken and flow over time, arm by arm. Feeds of one participant are averaged first, so that a participant with
 * many feeds has the same weight as one with few. Pure.
 */
import { meanInterval, summaryOf } from '../statistics/effects.ts';
import { byParticipant, type SessionBrief, STEP_SEC } from './brief.ts';

export interface CurvePoint {
  min: number;
  /** Number of participants. */
  n: number;
  mean: number;
  /** Standard deviation between participants. */
  sd: number;
  /** Interval of 95 % of the mean. */
  low: number;
  high: number;
}

export interface ArmCurves {
  arm: string;
  participants: number;
  sessions: number;
  /** Milk taken; after the end of a feed it stays constant. */
  intakeMl: CurvePoint[];
  /** Flow in feeds that are not over; it ends where fewer than half of the participants still feed. */
  flowMlPerMin: CurvePoint[];
}

export function curvesByArm(briefs: readonly SessionBrief[]): ArmCurves[] {
  const arms = [...new Set(briefs.map(({ arm }) => arm))].sort();
  const steps = Math.max(0, ...briefs.map(({ intakeMl }) => intakeMl.length));
  return arms.map((arm) => {
    const own = briefs.filter((one) => one.arm === arm);
    const people = byParticipant(own);
    return {
      arm,
      participants: people.length,
      sessions: own.length,
      intakeMl: pointsOf(people, steps, ({ intakeMl }, i) => intakeMl[i] ?? intakeMl.at(-1) ?? null, 0),
      flowMlPerMin: pointsOf(people, steps, ({ flowMlPerMin }, i) => flowMlPerMin[i] ?? null, 0.5),
    };
  });
}

/** @param leastShare least share of participants for a point; the curve ends at the first point below it */
function pointsOf(
  people: readonly SessionBrief[][],
  steps: number,
  of: (brief: SessionBrief, step: number) => number | null,
  leastShare: number,
): CurvePoint[] {
  const points: CurvePoint[] = [];
  for (let i = 0; i < steps; i++) {
    const values = people.flatMap((sessions) => meanOf(sessions.map((one) => of(one, i))));
    const summary = summaryOf(values);
    if (values.length < leastShare * people.length) break;
    if (summary === null) continue;
    const { low, high } = meanInterval(summary);
    points.push({ min: (i * STEP_SEC) / 60, n: summary.n, mean: summary.mean, sd: summary.sd, low, high });
  }
  return points;
}

/** @returns the mean of the known values, or an empty list */
export function meanOf(values: readonly (number | null | undefined)[]): number[] {
  const known = values.filter((value) => typeof value === 'number');
  return known.length === 0 ? [] : [known.reduce((sum, one) => sum + one, 0) / known.length];
}
