/** The refined pass: the estimate that the graph of a feed shows, computed after the feed from everything recorded. */
import type { RefinedFeed, SensingEvent } from '../moment.ts';
import { UNMODELLED } from '../noise.ts';
import type { Sensor } from '../sensor-state.ts';
import { smoothBank } from './smooth-bank.ts';
import { GRID_STEPS } from './window-spread.ts';

/** A row each 0.4 s: two a second, also when the chip's clock runs slow or samples are lost. Steps are rows of the filter, 0.2 s. */
const STEPS_PER_ROW = GRID_STEPS;
const HALF_WINDOW_SEC = 5;

/** Index of the last entry of a rising list at or before `at`; −1 when none. */
function lastAtOrBefore(times: readonly number[], at: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (times[mid]! <= at) low = mid + 1;
    else high = mid;
  }
  return low - 1;
}

function valueAt(times: readonly number[], values: Float64Array, at: number): number {
  const k = lastAtOrBefore(times, at);
  if (k < 0) return values[0]!;
  if (k >= times.length - 1) return values[times.length - 1]!;
  const part = (at - times[k]!) / (times[k + 1]! - times[k]!);
  return values[k]! + part * (values[k + 1]! - values[k]!);
}

/**
 * Best estimate of the whole feed so far. Intake agrees with the weighings: intake + spilt − added = first milk − last milk.
 * At least two rows a second; flow over t − 5 s to t + 5 s, mL/min.
 */
export function refineFeed(sensor: Sensor): RefinedFeed {
  const { log, densityGramsPerMl: density } = sensor;
  const { atSec: times } = log;
  const smoothed = smoothBank(sensor.bank);
  const count = times.length;
  const refined: RefinedFeed = {
    atSec: [],
    milkMl: [],
    flowMlPerMin: [],
    flowSdMlPerMin: [],
    intakeMl: [],
    milkSdMl: [],
    quality: [],
    teatInMouth: [],
    totals: { intakeMl: 0, spiltMl: 0, addedMl: 0 },
    suckAtSec: [...log.suckAtSec],
    events: [],
  };
  if (count === 0) return refined;

  const weighed = smoothed.milkGrams.map((grams) => Math.max(0, grams) / density);
  const stretches = changeStretches(sensor, weighed);
  refined.events.push(...refinedChanges(log.events, stretches));
  const { totals } = refined;
  for (const event of refined.events) {
    if (event.kind === 'spill') totals.spiltMl += event.volumeMl;
    if (event.kind === 'refill') totals.addedMl += event.volumeMl;
  }
  const intake = new Float64Array(count);
  let most = 0;
  for (let k = 0; k < count; k++) {
    // Intake never decreases: what noise takes away is not counted.
    most = Math.max(most, smoothed.intakeGrams[k]! / density);
    intake[k] = most;
  }
  totals.intakeMl = most;
  // At a reset of the chip the elapsed time is unknown, and so is the flow.
  const resets = log.events.filter(({ kind }) => kind === 'chip-reset').map(({ atSec }) => atSec);
  const milk = closedMilk(log.known, weighed, intake, stretches);

  for (let k = 0; k < count; k++) {
    // The last step is included, so that the totals agree within the columns.
    if (k % STEPS_PER_ROW !== 0 && k !== count - 1) continue;
    const at = times[k]!;
    const known = log.known[k]!;
    const flow =
      6 * (valueAt(times, intake, at + HALF_WINDOW_SEC) - valueAt(times, intake, at - HALF_WINDOW_SEC));
    refined.atSec.push(at);
    refined.milkMl.push(known ? milk[k]! : null);
    refined.milkSdMl.push(known ? Math.hypot(smoothed.milkSdGrams[k]! / density, UNMODELLED.milkSdMl) : null);
    const overReset = resets.some((reset) => Math.abs(at - reset) <= HALF_WINDOW_SEC);
    refined.flowMlPerMin.push(known && !overReset ? Math.max(0, flow) : null);
    const place = Math.min(Math.round(k / GRID_STEPS), smoothed.tenSecSdGrams.length - 1);
    const flowSd = Math.hypot(
      (6 * UNMODELLED.refinedFlowSdShare * smoothed.tenSecSdGrams[place]!) / density,
      UNMODELLED.flowSdMlPerMin,
    );
    refined.flowSdMlPerMin!.push(known && !overReset ? flowSd : null);
    refined.intakeMl.push(intake[k]!);
    refined.quality!.push(known && !overReset ? log.quality[k]! : 'invalid');
    refined.teatInMouth.push(log.inMouth[k]!);
  }
  return refined;
}

/** A stretch without the teat in which milk was spilt or poured in: first and last step, and the change of the smoothed milk. */
interface Stretch {
  start: number;
  end: number;
  fromSec: number;
  toSec: number;
  gainedMl: number;
}

function changeStretches({ log }: Sensor, weighed: Float64Array): Stretch[] {
  const stretches: Stretch[] = [];
  for (const event of log.events) {
    if (event.kind !== 'spill' && event.kind !== 'refill') continue;
    let start = Math.max(0, lastAtOrBefore(log.atSec, event.atSec));
    let end = start;
    while (start > 0 && !log.inMouth[start - 1]) start -= 1;
    while (end < weighed.length - 1 && !log.inMouth[end + 1]) end += 1;
    if (stretches.some((one) => one.start === start)) continue;
    const gainedMl = weighed[end]! - weighed[start]!;
    stretches.push({ start, end, fromSec: log.atSec[start]!, toSec: log.atSec[end]!, gainedMl });
  }
  return stretches;
}

type Change = Extract<SensingEvent, { volumeMl: number }>;

/** The events, with volumes scaled so that each stretch sums to the change of the smoothed milk. */
function refinedChanges(events: readonly SensingEvent[], stretches: readonly Stretch[]): SensingEvent[] {
  const refined = events.map((event) => ({ ...event }));
  const changes = refined.filter(
    (event): event is Change => event.kind === 'spill' || event.kind === 'refill',
  );
  for (const { fromSec, toSec, gainedMl } of stretches) {
    const together = changes.filter((one) => one.atSec >= fromSec && one.atSec <= toSec);
    const signed = together.map((one) => (one.kind === 'refill' ? one.volumeMl : -one.volumeMl));
    const moved = signed.reduce((sum, ml) => sum + Math.abs(ml), 0);
    const amiss = gainedMl - signed.reduce((sum, ml) => sum + ml, 0);
    together.forEach((one, i) => {
      const share = (amiss * Math.abs(signed[i]!)) / moved;
      one.volumeMl = Math.max(0, one.volumeMl + (one.kind === 'refill' ? share : -share));
    });
  }
  return refined;
}

/**
 * Milk in the bottle such that it balances: what is missing was drunk or spilt. Its level is the best fit to all weighings
 * of the feed, not only to the first and the last.
 */
function closedMilk(
  known: readonly boolean[],
  weighed: Float64Array,
  intake: Float64Array,
  stretches: readonly Stretch[],
): Float64Array {
  const milk = new Float64Array(weighed.length);
  let gained = 0;
  let next = 0;
  const inOrder = [...stretches].sort((a, b) => a.start - b.start);
  let sum = 0;
  let steps = 0;
  for (let k = 0; k < milk.length; k++) {
    while (next < inOrder.length && k > inOrder[next]!.end) gained += inOrder[next++]!.gainedMl;
    const stretch = inOrder[next];
    const now = stretch && k >= stretch.start ? weighed[k]! - weighed[stretch.start]! : 0;
    milk[k] = gained + now - intake[k]!;
    if (!known[k]) continue;
    sum += weighed[k]! - milk[k]!;
    steps += 1;
  }
  const level = steps > 0 ? sum / steps : 0;
  return milk.map((ml) => Math.max(0, ml + level));
}
