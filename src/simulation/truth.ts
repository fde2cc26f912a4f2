/** The true course of a simulated feed, recorded beside it. */
import type { Motion, Sample } from '../../firmware-bridge/wire/messages.ts';
import type { TeatEventKind } from './poses.ts';
import type { Turn } from './turning.ts';
import type { Triple } from './vectors.ts';

export interface TruthEvent {
  atSec: number;
  /** `latch`: teat in; the others: teat out, for that reason. `chip-reset`: no samples from then on until the chip has started. */
  kind: TeatEventKind | 'chip-reset';
  milkMl: number;
}

/** A pace bucket as the sleeve contract's section 5 defines it, fed with the true intake. */
export interface BucketTruth {
  rateMlPerMin: number;
  depthMl: number;
  crossings: number[];
  peakMl: number;
}

/**
 * Columns at 4 Hz, `atSec` since the first sample (true time, also during a chip reset).
 * `milkMl` is that of the bottle in use, also while it is out of the sleeve. `onMouth` 1 or 0.
 */
export interface FeedTruth {
  durationSec: number;
  intakeMl: number;
  spiltMl: number;
  addedMl: number;
  frames: number;
  sucks: number;
  /** Start of each suck, s, also of those that gave no milk. */
  suckTimes: number[];
  events: TruthEvent[];
  atSec: number[];
  milkMl: number[];
  onMouth: number[];
  buckets: BucketTruth[];
  /** 6 × (intake now − intake 10 s ago), and over t − 5 s to t + 5 s; mL/min. */
  flow10MlPerMin: number[];
  flow10CentredMlPerMin: number[];
  intakeSoFarMl: number[];
}

const ROWS_PER_SEC = 4;
const BUCKETS = [
  { rateMlPerMin: 8, depthMl: 18 },
  { rateMlPerMin: 14, depthMl: 6 },
] as const;

/** Account of the milk at one moment. intake + spilt − added = first milk − milk, always. */
export interface MilkAccount {
  milkMl: number;
  intakeMl: number;
  spiltMl: number;
  addedMl: number;
}

export class TruthWriter {
  readonly #atSec: number[] = [];
  readonly #milkMl: number[] = [];
  readonly #onMouth: number[] = [];
  readonly #intakeMl: number[] = [];
  readonly #suckTimes: number[] = [];
  readonly #events: TruthEvent[] = [];
  readonly #buckets = BUCKETS.map((bucket) => ({
    ...bucket,
    crossings: [] as number[],
    peakMl: 0,
    aheadMl: 0,
    armed: true,
  }));
  readonly #account: MilkAccount = { milkMl: 0, intakeMl: 0, spiltMl: 0, addedMl: 0 };
  #lastSec = 0;
  #frames = 0;

  event(atSec: number, kind: TruthEvent['kind'], milkMl: number): void {
    this.#events.push({ atSec, kind, milkMl });
  }

  suck(atSec: number): void {
    this.#suckTimes.push(atSec);
  }

  step(atSec: number, stepSec: number, account: MilkAccount, onMouth: boolean, sent: boolean): void {
    const increaseMl = account.intakeMl - this.#account.intakeMl;
    for (const bucket of this.#buckets) {
      const drainMl = (bucket.rateMlPerMin / 60) * stepSec;
      bucket.aheadMl = Math.max(0, bucket.aheadMl + increaseMl - drainMl);
      bucket.peakMl = Math.max(bucket.peakMl, bucket.aheadMl);
      if (bucket.armed && bucket.aheadMl > bucket.depthMl) {
        bucket.crossings.push(atSec);
        bucket.armed = false;
      } else if (bucket.aheadMl < bucket.depthMl / 2) bucket.armed = true;
    }
    Object.assign(this.#account, account);
    this.#lastSec = atSec;
    if (sent) this.#frames += 1;
    if (atSec * ROWS_PER_SEC < this.#atSec.length - 1e-6) return;
    this.#atSec.push(this.#atSec.length / ROWS_PER_SEC);
    this.#milkMl.push(account.milkMl);
    this.#onMouth.push(onMouth ? 1 : 0);
    this.#intakeMl.push(account.intakeMl);
  }

  /** @returns the truth so far, as a copy. */
  read(): FeedTruth {
    const { intakeMl, spiltMl, addedMl } = this.#account;
    const intake = this.#intakeMl;
    const last = intake.length - 1;
    const over = (from: number, to: number): number =>
      6 * ((intake[Math.min(to, last)] ?? 0) - (from < 0 ? 0 : intake[from]!));
    const windowRows = 10 * ROWS_PER_SEC;
    return {
      durationSec: this.#lastSec,
      intakeMl,
      spiltMl,
      addedMl,
      frames: this.#frames,
      sucks: this.#suckTimes.length,
      suckTimes: [...this.#suckTimes],
      events: this.#events.map((event) => ({ ...event })),
      atSec: [...this.#atSec],
      milkMl: [...this.#milkMl],
      onMouth: [...this.#onMouth],
      buckets: this.#buckets.map(({ rateMlPerMin, depthMl, crossings, peakMl }) => ({
        rateMlPerMin,
        depthMl,
        crossings: [...crossings],
        peakMl,
      })),
      flow10MlPerMin: intake.map((_, row) => over(row - windowRows, row)),
      flow10CentredMlPerMin: intake.map((_, row) => over(row - windowRows / 2, row + windowRows / 2)),
      intakeSoFarMl: [...intake],
    };
  }
}

/** The truth of one step. */

export interface TruthNow extends MilkAccount {
  /** True time since the first sample, s. */
  atSec: number;
  onMouth: boolean;
  tiltDeg: number;
  rollDeg: number;
  /** Milk's surface over the teat's hole, mm; covered while above 0. */
  headMm: number;
  /** Mouth on the bottle: across (lifting > 0) and along (suction > 0), N. */
  mouthForceXN: number;
  mouthForceZN: number;
  sucks: number;
  /** Noise-free felt force where the accelerometer is, g, and shell loads [Fx, Fz, M] in N, N, N·m. */
  feltG: Triple;
  loads: Triple;
  /** How the bottle turns; zero in simulations without turning. */
  turn: Turn;
}

export interface SimulatedStep {
  /** Null if this sample was lost, or the chip is starting up. */
  sample: Sample | null;
  /** Null where there is no gyroscope, and with a lost sample. */
  motion: Motion | null;
  /** Reading of the gyroscope, °/s; absent without one. */
  turningDps?: Triple;
  truth: TruthNow;
}
