/** One outcome participant by participant and arm by arm: what a forest plot shows. Pure. */
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

export interface Outcome {
  index: IndexKey;
  participants: ParticipantOutcome[];
  /** Arms with at least two participants. */
  arms: ArmOutcome[];
  /** Each further arm against the first. */
  effects: { first: string; second: string; effect: Effect }[];
  /** Sessions in which the index is missing. */
  missing: number;
}

export function outcomeOf(briefs: readonly SessionBrief[], index: IndexKey): Outcome {
  const given = briefs.filter(({ indices }) => indices[index] !== undefined);
  const participants = byParticipant(given).map((sessions): ParticipantOutcome => {
    const { participant, arm } = sessions[0]!;
    const values = sessions.map(({ indices }) => indices[index]!);
    const summary = summaryOf(values);
    const [mean] = meanOf(values);
    return {
      participant,
      arm,
      sessions: values.length,
      mean: mean!,
      interval: summary === null ? null : meanInterval(summary),
    };
  });
  participants.sort((a, b) => order(a.arm, b.arm) || order(a.participant, b.participant));
  const arms = [...new Set(participants.map(({ arm }) => arm))].flatMap((arm): ArmOutcome[] => {
    const summary = summaryOf(participants.filter((one) => one.arm === arm).map(({ mean }) => mean));
    return summary === null ? [] : [{ arm, summary, interval: meanInterval(summary) }];
  });
  const [first, ...others] = arms;
  const effects = others.map((second) => ({
    first: first!.arm,
    second: second.arm,
    effect: effectOf(first!.summary, second.summary),
  }));
  return { index, participants, arms, effects, missing: briefs.length - given.length };
}

/** By code units, the same on every machine. */
const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
