/** One outcome participant by participant and arm by arm: the data of a forest plot. Pure. */
import type { IndexKey } from '../indices/definitions.ts';
import {
  type Effect,
  effectOf,
  type Interval,
  meanInterval,
  type Summary,
  summaryOf,
} from '../statistics/effects.ts';
import { byParticipant, type SessionBrief } from './brief.ts';
import { meanOf } from './curves.ts';

export interface ParticipantOutcome {
  participant: string;
  arm: string;
  sessions: number;
  mean: number;
  /** Interval of the mean over that participant's feeds; null with one feed. */
  interval: Interval | null;
}

export interface ArmOutcome {
  arm: string;
  summary: Summary;
  interval: Interval;
}

export interface Comparison {
  first: string;
  second: string;
  /** `within`: every participant was in both arms, and is compared with itself; `between`: different people. */
  design: 'within' | 'between';
  effect: Effect;
}

export interface Outcome {
  index: IndexKey;
  /** One for each participant in each arm. */
  participants: ParticipantOutcome[];
  /** Arms with at least two participants. */
  arms: ArmOutcome[];
  /** Each further arm against the first. */
  effects: Comparison[];
  /** Sessions in which the index is missing. */
  missing: number;
}

export function outcomeOf(briefs: readonly SessionBrief[], index: IndexKey): Outcome {
  const given = briefs.filter(({ indices }) => indices[index] !== undefined);
  const names = [...new Set(given.map(({ arm }) => arm))].sort(order);
  const byArm = names.map((arm) =>
    participantsOf(
      given.filter((one) => one.arm === arm),
      index,
    ),
  );
  const arms = byArm.flatMap((own, i): ArmOutcome[] => {
    const summary = summaryOf(own.map(({ mean }) => mean));
    return summary === null ? [] : [{ arm: names[i]!, summary, interval: meanInterval(summary) }];
  });
  const [first, ...others] = arms;
  const of = (arm: string): ParticipantOutcome[] => byArm[names.indexOf(arm)]!;
  return {
    index,
    participants: byArm.flat(),
    arms,
    effects: others.flatMap((second) => comparisonOf(first!, second, of(first!.arm), of(second.arm))),
    missing: briefs.length - given.length,
  };
}

/** @param sessions of one arm */
const participantsOf = (sessions: readonly SessionBrief[], index: IndexKey): ParticipantOutcome[] =>
  byParticipant(sessions)
    .map((own): ParticipantOutcome => {
      const { participant, arm } = own[0]!;
      const values = own.map(({ indices }) => indices[index]!);
      const summary = summaryOf(values);
      const [mean] = meanOf(values);
      const interval = summary === null ? null : meanInterval(summary);
      return { participant, arm, sessions: values.length, mean: mean!, interval };
    })
    .sort((a, b) => order(a.participant, b.participant));

/** @returns an empty list if all values are equal: an interval of width 0 would be wrong */
function comparisonOf(
  first: ArmOutcome,
  second: ArmOutcome,
  inFirst: readonly ParticipantOutcome[],
  inSecond: readonly ParticipantOutcome[],
): Comparison[] {
  const named = { first: first.arm, second: second.arm };
  const before = new Map(inFirst.map(({ participant, mean }) => [participant, mean]));
  const changes = inSecond.flatMap(({ participant, mean }) => {
    const was = before.get(participant);
    return was === undefined ? [] : [mean - was];
  });
  const isWithin = changes.length === inFirst.length && changes.length === inSecond.length;
  const between = effectOf(first.summary, second.summary);
  if (!isWithin) {
    const varies = first.summary.sd > 0 || second.summary.sd > 0;
    return varies ? [{ ...named, design: 'between', effect: between }] : [];
  }
  // Several different definitions exist for the standardized difference of paired means, so none is given.
  const summary = summaryOf(changes)!;
  const effect = { ...between, difference: meanInterval(summary), hedgesG: null };
  return summary.sd > 0 ? [{ ...named, design: 'within', effect }] : [];
}

/** By code units, the same on every machine. */
const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
