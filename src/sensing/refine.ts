/** The refined pass: what the session graph shows, made after the feed from all that was kept. */
import type { RefinedFeed, SensingEvent } from './moment.ts';
import { UNMODELLED } from './noise.ts';
import type { Sensor } from './sensor-state.ts';
import { smoothBank } from './smooth-bank.ts';

/** A row each 0.4 s: two a second, also when the chip's clock runs slow or samples are lost. */
const STEPS_PER_ROW = 8;
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
 * Best estimate of the whole feed so far. Intake closes to the weighings: intake + spilt − added = first milk − last milk.
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
    intakeMl: [],
    milkSdMl: [],
    teatInMouth: [],
    totals: { intakeMl: 0, spiltMl: 0, addedMl: 0 },
    suckAtSec: [...log.suckAtSec],
    events: [],
  };
  if (count === 0) return refined;

  const milk = smoothed.milkGrams.map((grams) => Math.max(0, grams) / density);
  refined.events.push(...refinedChanges(sensor, milk));
  for (const event of refined.events) {
    if (event.kind === 'spill') refined.totals.spiltMl += event.volumeMl;
    if (event.kind === 'refill') refined.totals.addedMl += event.volumeMl;
  }
  const { totals } = refined;
  const closed = milk[0]! - milk[count - 1]! - totals.spiltMl + totals.addedMl;
  const raw = smoothed.intakeGrams[count - 1]! / density;
  const intake = new Float64Array(count);
  const share = raw > 1 ? closed / raw : 1;
  let most = 0;
  for (let k = 0; k < count; k++) {
    // Milk never goes back: what noise takes away again is not counted.
    most = Math.max(most, (smoothed.intakeGrams[k]! / density) * share);
    intake[k] = most;
  }
  totals.intakeMl = Math.max(0, raw > 1 ? closed : raw);
  for (let k = 0; k < count; k++) intake[k] = Math.min(intake[k]!, totals.intakeMl);

  for (let k = 0; k < count; k++) {
    // The last step too, so that the totals close within the columns.
    if (k % STEPS_PER_ROW !== 0 && k !== count - 1) continue;
    const at = times[k]!;
    const known = log.known[k]!;
    const flow =
      6 * (valueAt(times, intake, at + HALF_WINDOW_SEC) - valueAt(times, intake, at - HALF_WINDOW_SEC));
    refined.atSec.push(at);
    refined.milkMl.push(known ? milk[k]! : null);
    refined.milkSdMl.push(known ? Math.hypot(smoothed.milkSdGrams[k]! / density, UNMODELLED.milkSdMl) : null);
    refined.flowMlPerMin.push(known ? Math.max(0, flow) : null);
    refined.intakeMl.push(intake[k]!);
    refined.teatInMouth.push(log.inMouth[k]!);
  }
  return refined;
}

type Change = Extract<SensingEvent, { volumeMl: number }>;

/** The events, with what was spilt or poured in read off the smoothed milk before and after the stretch without the teat. */
function refinedChanges({ log }: Sensor, milk: Float64Array): SensingEvent[] {
  const events = log.events.map((event) => ({ ...event }));
  const changes = events.filter(
    (event): event is Change => event.kind === 'spill' || event.kind === 'refill',
  );
  const done = new Set<number>();
  for (const change of changes) {
    let start = Math.max(0, lastAtOrBefore(log.atSec, change.atSec));
    let end = start;
    while (start > 0 && !log.inMouth[start - 1]) start -= 1;
    while (end < milk.length - 1 && !log.inMouth[end + 1]) end += 1;
    if (done.has(start)) continue;
    done.add(start);
    const from = log.atSec[start]!;
    const to = log.atSec[end]!;
    const together = changes.filter((one) => one.atSec >= from && one.atSec <= to);
    const signed = together.map((one) => (one.kind === 'refill' ? one.volumeMl : -one.volumeMl));
    const moved = signed.reduce((sum, ml) => sum + Math.abs(ml), 0);
    const amiss = milk[end]! - milk[start]! - signed.reduce((sum, ml) => sum + ml, 0);
    together.forEach((one, i) => {
      const share = (amiss * Math.abs(signed[i]!)) / moved;
      one.volumeMl = Math.max(0, one.volumeMl + (one.kind === 'refill' ? share : -share));
    });
  }
  return events;
}
