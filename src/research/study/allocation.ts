/**
 * Randomised allocation: permuted blocks of random size within strata, from a seed that is kept apart from the study
 * (terms as in CONSORT 2010, items 8 and 9). There is no list that could be read in advance: the arm of the next
 * participant is computed when that participant is enrolled. Pure.
 */
import { PlainError } from '../../base/errors.ts';
import { Random } from '../../base/random.ts';
import { WITHHELD_FEEDS } from './learned.ts';
import type { Protocol } from './protocol.ts';

/** A line of the allocation log; it is only ever added to. */
export interface Allocation {
  participant: string;
  stratum: string;
  /** Place within the stratum, from 1. */
  number: number;
  arm: string;
  atMs: number;
}

/** The arms of a stratum in order, as many as asked for. @param seed of the study, a whole number */
export function armsInOrder(protocol: Protocol, seed: number, stratum: string, count: number): string[] {
  const { allocation, arms } = protocol;
  if (allocation === null) return Array.from({ length: count }, () => arms[0]!.code);
  const random = new Random(seed, `${protocol.code}/${stratum}`);
  const order: string[] = [];
  while (order.length < count) {
    const size = allocation.blockSizes[random.integer([0, allocation.blockSizes.length - 1])]!;
    const block = Array.from({ length: size }, (_, i) => arms[i % arms.length]!.code);
    order.push(...random.shuffled(block));
  }
  return order.slice(0, count);
}

/** Number of feeds until the test, and the number of first feeds that are all without cues. */
const LEARNING = { feeds: 20, firstWithout: 6 };

/**
 * The arm of one feed, where each feed has an arm of its own.
 * @param number of the feed among the participant's sessions, from 1
 */
export function armOfFeed(protocol: Protocol, seed: number, participant: string, number: number): string {
  const about = `feeds of ${participant}`;
  if (!protocol.allocation?.asksWhatIsLearned) return armsInOrder(protocol, seed, about, number)[number - 1]!;
  const armWith = (cues: 'on' | 'logged'): string => protocol.arms.find((one) => one.cues === cues)!.code;
  const [on, logged] = [armWith('on'), armWith('logged')];
  if (number > LEARNING.feeds) return on;
  if (number <= LEARNING.firstWithout) return logged;
  const rest = Array.from({ length: LEARNING.feeds - LEARNING.firstWithout }, (_, i) =>
    i < WITHHELD_FEEDS - LEARNING.firstWithout ? logged : on,
  );
  return new Random(seed, `${protocol.code}/${about}`).shuffled(rest)[number - LEARNING.firstWithout - 1]!;
}

/**
 * @param log allocations so far, in order
 * @returns the allocation of a new participant
 * @throws PlainError participant-twice, stratum-unknown, allocation-used-up
 */
export function allocate(
  protocol: Protocol,
  seed: number,
  log: readonly Allocation[],
  participant: string,
  stratum: string,
  atMs: number,
): Allocation {
  if (log.some((one) => one.participant === participant)) {
    throw new PlainError(
      'participant-twice',
      `Participant ${participant} is already in the study.`,
      'Choose a code that is not in use, or go on with the one that is.',
    );
  }
  const strata = protocol.allocation?.strata ?? ['all'];
  if (!strata.includes(stratum)) {
    throw new PlainError(
      'stratum-unknown',
      `The protocol has no stratum ${stratum}.`,
      `Choose one of: ${strata.join(', ')}.`,
    );
  }
  const before = log.filter((one) => one.stratum === stratum).length;
  const places = protocol.allocation?.placesPerStratum ?? null;
  if (places !== null && before >= places) {
    throw new PlainError(
      'allocation-used-up',
      `Stratum ${stratum} is full: all ${places} places of the protocol are allocated.`,
      `Participant ${participant} was not enrolled. More participants need a study of their own.`,
    );
  }
  const arm = armsInOrder(protocol, seed, stratum, before + 1)[before]!;
  return { participant, stratum, number: before + 1, arm, atMs };
}
