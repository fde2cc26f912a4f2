/** Holds one way's answers, and the sensor's own with all that it says besides, against the truth of one feed. */
import type { RefinedFeed, SensedMoment } from '../../../src/sensing/index.ts';
import { feedSpan, type Truth, truthAt } from '../../support/judge.ts';
import type { Estimate } from '../baselines.ts';
import { rootMeanSquare } from '../table.ts';
import { OVERALL } from './targets.ts';

/** rms over one feed; null where the way has no such answer. */
export interface Score {
  live: number | null;
  refined: number | null;
  milkMl: number | null;
  /** Told − true intake 2 s after each teat-out. */
  intakeErrorsMl: number[];
}

/** What only the sensor tells. */
export interface OwnScore extends Score {
  /** Told − true whole intake after the refined pass. */
  refinedIntakeErrorMl: number;
  /** True intake at each judged teat-out. */
  intakesMl: number[];
  /** Live flow 12 s after each teat-out of a burp pause that lasts longer. */
  burpFlows: number[];
  teatRight: number;
  latchDelaysSec: number[];
  releaseDelaysSec: number[];
  /** Told and true changes between teat in and out. */
  turns: { told: number; true: number };
  sucks: { told: number; true: number };
  /** Told − true volume spilt and poured in, live and refined; `any`: there truly was one. */
  changes: { any: boolean; spiltMl: number; addedMl: number; refinedSpiltMl: number; refinedAddedMl: number };
  /** Share of the feed's moments by the sensor's stated quality, such as `good`, `degraded: roll`. */
  said: Map<string, number>;
  /** Live flow rms by quality; null where there was none. */
  liveWhen: { good: number | null; poor: number | null };
  toldShare: number;
  /** Share of live flows and milks within one and two of their stated standard deviations. */
  within: { flow1: number; flow2: number; milk1: number; milk2: number };
}

/** Time after a teat-out at which its intake is judged. */
const SETTLED_SEC = 2;
const NEVER_SEC = 1e3;

/** Rising `atSec`: index of the last entry at or before `sec`, −1 when none. */
function lastAt(atSec: readonly number[], sec: number): number {
  let low = 0;
  let high = atSec.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (atSec[middle]! <= sec) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

class Rms {
  #sum = 0;
  #count = 0;
  add(error: number): void {
    this.#sum += error * error;
    this.#count += 1;
  }
  get value(): number | null {
    return this.#count > 0 ? Math.sqrt(this.#sum / this.#count) : null;
  }
}

const judgedOuts = (truth: Truth): number[] => {
  const outs = teatOuts(truth);
  return outs.length > 0 ? outs.map((sec) => sec + SETTLED_SEC) : [feedSpan(truth).lastSec];
};

const teatOuts = (truth: Truth): number[] =>
  truth.events.filter(({ kind }) => kind !== 'latch' && kind !== 'chip-reset').map(({ atSec }) => atSec);

function intakeErrors(atSec: readonly number[], intakeMl: readonly number[], truth: Truth): number[] {
  return judgedOuts(truth)
    .map((sec) => lastAt(atSec, sec))
    .filter((i) => i >= 0)
    .map((i) => intakeMl[i]! - truthAt(truth, truth.intakeSoFarMl, atSec[i]!));
}

/** The last 5 s have no second half of their window. */
function refinedRms(atSec: readonly number[], flow: readonly (number | null)[], truth: Truth): number | null {
  const { firstSec, lastSec } = feedSpan(truth);
  const rms = new Rms();
  for (let i = 0; i < atSec.length; i++) {
    if (atSec[i]! < firstSec || atSec[i]! > lastSec - 5) continue;
    rms.add((flow[i] ?? 0) - truthAt(truth, truth.flow10CentredMlPerMin, atSec[i]!));
  }
  return rms.value;
}

export function scoreBaseline(estimate: Estimate, truth: Truth): Score {
  const { atSec, flowMlPerMin, centredFlowMlPerMin, milkMl, intakeMl } = estimate;
  const { firstSec, lastSec } = feedSpan(truth);
  const live = new Rms();
  const milk = new Rms();
  for (let i = 0; i < atSec.length; i++) {
    const sec = atSec[i]!;
    if (sec < firstSec || sec > lastSec) continue;
    if (flowMlPerMin) live.add(flowMlPerMin[i]! - truthAt(truth, truth.flow10MlPerMin, sec));
    if (milkMl) milk.add(milkMl[i]! - truthAt(truth, truth.milkMl, sec));
  }
  return {
    live: live.value,
    refined: centredFlowMlPerMin && refinedRms(atSec, centredFlowMlPerMin, truth),
    milkMl: milk.value,
    intakeErrorsMl: intakeMl ? intakeErrors(atSec, intakeMl, truth) : [],
  };
}

export function scoreOwn(moments: readonly SensedMoment[], refined: RefinedFeed, truth: Truth): OwnScore {
  const { firstSec, lastSec } = feedSpan(truth);
  const onMouth = truth.onMouth.map(Number);
  const live = new Rms();
  const whenGood = new Rms();
  const whenPoor = new Rms();
  const milk = new Rms();
  const said = new Map<string, number>();
  const within = { flow1: 0, flow2: 0, milk1: 0, milk2: 0 };
  let right = 0;
  let judgedCount = 0;
  let flows = 0;
  let milks = 0;
  for (const moment of moments) {
    const sec = moment.atSec;
    if (truthAt(truth, onMouth, sec) > 0.5 === moment.teatInMouth) right += 1;
    if (sec < firstSec || sec > lastSec) continue;
    judgedCount += 1;
    const state = moment.reason ? `${moment.quality}: ${moment.reason}` : moment.quality;
    said.set(state, (said.get(state) ?? 0) + 1);
    // A flow that is not stated is judged as zero, so that stating nothing gains nothing.
    const flowError = (moment.flowMlPerMin ?? 0) - truthAt(truth, truth.flow10MlPerMin, sec);
    live.add(flowError);
    (moment.quality === 'good' ? whenGood : whenPoor).add(flowError);
    if (moment.flowMlPerMin !== null) {
      flows += 1;
      if (Math.abs(flowError) <= moment.flowSdMlPerMin!) within.flow1 += 1;
      if (Math.abs(flowError) <= 2 * moment.flowSdMlPerMin!) within.flow2 += 1;
    }
    if (moment.milkMl === null) continue;
    milks += 1;
    const milkError = moment.milkMl - truthAt(truth, truth.milkMl, sec);
    milk.add(milkError);
    if (Math.abs(milkError) <= moment.milkSdMl!) within.milk1 += 1;
    if (Math.abs(milkError) <= 2 * moment.milkSdMl!) within.milk2 += 1;
  }
  for (const [state, count] of said) said.set(state, count / judgedCount);
  const atSec = moments.map((moment) => moment.atSec);
  return {
    live: live.value,
    refined: refinedRms(refined.atSec, refined.flowMlPerMin, truth),
    milkMl: milk.value,
    intakeErrorsMl: intakeErrors(
      atSec,
      moments.map(({ intakeMl }) => intakeMl),
      truth,
    ),
    refinedIntakeErrorMl: refined.totals.intakeMl - truth.intakeSoFarMl.at(-1)!,
    intakesMl: judgedOuts(truth).map((sec) => truthAt(truth, truth.intakeSoFarMl, sec)),
    burpFlows: burpFlows(moments, atSec, truth),
    teatRight: right / moments.length,
    ...turnsOf(moments, truth),
    sucks: { told: moments.at(-1)!.suckCount, true: truth.suckTimes.length },
    changes: changesOf(moments.at(-1)!, refined, truth),
    said,
    liveWhen: { good: whenGood.value, poor: whenPoor.value },
    toldShare: flows / judgedCount,
    within: {
      flow1: within.flow1 / flows,
      flow2: within.flow2 / flows,
      milk1: within.milk1 / milks,
      milk2: within.milk2 / milks,
    },
  };
}

function burpFlows(moments: readonly SensedMoment[], atSec: readonly number[], truth: Truth): number[] {
  const flows: number[] = [];
  truth.events.forEach(({ kind, atSec: outSec }, i) => {
    const nextSec = truth.events[i + 1]?.atSec ?? Number.POSITIVE_INFINITY;
    const dueSec = outSec + OVERALL.burpAfterSec;
    if (kind !== 'burp' || nextSec < dueSec || dueSec > atSec.at(-1)!) return;
    flows.push(moments[lastAt(atSec, dueSec)]!.flowMlPerMin ?? 0);
  });
  return flows;
}

function turnsOf(
  moments: readonly SensedMoment[],
  truth: Truth,
): Pick<OwnScore, 'latchDelaysSec' | 'releaseDelaysSec' | 'turns'> {
  const latchDelaysSec: number[] = [];
  const releaseDelaysSec: number[] = [];
  const events = truth.events.filter(({ kind }) => kind !== 'chip-reset');
  let from = 0;
  for (const { kind, atSec } of events) {
    while (from < moments.length && moments[from]!.atSec < atSec) from += 1;
    let at = from;
    while (at < moments.length && moments[at]!.teatInMouth !== (kind === 'latch')) at += 1;
    const delay = at < moments.length ? moments[at]!.atSec - atSec : NEVER_SEC;
    (kind === 'latch' ? latchDelaysSec : releaseDelaysSec).push(delay);
  }
  let told = 0;
  for (let i = 1; i < moments.length; i++)
    if (moments[i]!.teatInMouth !== moments[i - 1]!.teatInMouth) told += 1;
  return { latchDelaysSec, releaseDelaysSec, turns: { told, true: events.length } };
}

/** True volumes by what the columns leave: milk that went or came while nobody drank. */
function changesOf(last: SensedMoment, refined: RefinedFeed, truth: Truth): OwnScore['changes'] {
  let spiltMl = 0;
  let addedMl = 0;
  for (let i = 1; i < truth.atSec.length; i++) {
    const gained =
      truth.milkMl[i]! - truth.milkMl[i - 1]! + truth.intakeSoFarMl[i]! - truth.intakeSoFarMl[i - 1]!;
    if (gained > 0.02) addedMl += gained;
    if (gained < -0.02) spiltMl -= gained;
  }
  return {
    any: spiltMl + addedMl > 0.5,
    spiltMl: last.spiltMl - spiltMl,
    addedMl: last.addedMl - addedMl,
    refinedSpiltMl: refined.totals.spiltMl - spiltMl,
    refinedAddedMl: refined.totals.addedMl - addedMl,
  };
}

export const rmsOf = (values: readonly (number | null)[]): number | null => {
  const known = values.filter((value) => value !== null);
  return known.length > 0 ? rootMeanSquare(known) : null;
};
