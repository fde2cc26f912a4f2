/**
 * A whole simulated feed through the sleeve's engine, and beside it the same cue rules on what really happened: so that an error can be told to be the
 * estimate's or the rules'.
 */
import { encodeMessage } from '../../firmware-bridge/wire/codec.ts';
import { MESSAGES } from '../../firmware-bridge/wire/messages.ts';
import { createEngine, type Engine, type EngineTick, runEngine } from '../../src/feed/engine.ts';
import type { Cue, PacingInput, ShownCue } from '../../src/pacing/cues/cue.ts';
import { createPacing, type Guidance, SHIPPED_PROFILE, stepPacing } from '../../src/pacing/index.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import type { SeenCue } from '../../src/simulation/caregiver.ts';
import type { Overrides } from '../../src/simulation/parameters.ts';
import type { ScenarioName } from '../../src/simulation/scenarios.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import type { FeedTruth, TruthNow } from '../../src/simulation/truth.ts';
import { HARDSHIPS, type Hardship } from '../support/hardships.ts';

const STEPS_PER_SEC = 80;
/** Pacing runs at 20 Hz, as in the engine. */
const STEPS_PER_TICK = 4;

export interface PacedFeed {
  engine: Engine;
  scenario: ScenarioName;
  hardship: Hardship | null;
  cues: Cue[];
  /** Beginnings of what was shown. */
  shown: { kind: ShownCue; atSec: number }[];
  /** The same rules on the true milk, mouth, tilt and sucks; and on the true milk with all else as sensed. Empty unless asked for. */
  cuesOnTruth: Cue[];
  cuesOnTrueMilk: Cue[];
  truth: FeedTruth;
  /** When a burp truly was taken: nipple out for 5 s with the bottle up, to the end of it. */
  burpsTaken: { fromSec: number; toSec: number }[];
}

/** Cues that she can see by the light; hints are on the page only. */
const SEEN: Partial<Record<ShownCue, SeenCue>> = {
  'tilt-down': 'tilt-down',
  'keep-low': 'tilt-down',
  'breath-pause': 'tilt-down',
  burp: 'burp',
  'last-burp': 'burp',
  'switch-side': 'switch-side',
  'offer-stop': 'offer-stop',
  'asleep-early': 'offer-stop',
};

export function runFeed(options: {
  scenario: ScenarioName;
  seed: number;
  hardship?: Hardship | null;
  /** Laid over the scenario in place of a hardship. */
  overrides?: Overrides;
  follows?: boolean;
  guidance?: Guidance;
  longestSec?: number;
  onTruth?: boolean;
  /** She is shown nothing; otherwise the scenario decides what she does about it. */
  unlit?: boolean;
  /** Needed for a refined estimate afterwards. */
  refinable?: boolean;
  onTick?: (tick: EngineTick, truth: TruthNow, engine: Engine) => void;
}): PacedFeed {
  const { scenario, seed, hardship = null, follows = false, guidance, longestSec = 2700 } = options;
  const overrides = options.overrides ?? (hardship ? HARDSHIPS[hardship] : {});
  const feed = createSimulatedFeed({ scenario, seed, follows, overrides });
  const engine = createEngine({
    calibration: parseCalibration(feed.calibration, 'of the simulated sleeve'),
    portionMl: null,
    refinable: options.refinable ?? false,
    ...(guidance && { guidance }),
  });
  const cues: Cue[] = [];
  const shown: PacedFeed['shown'] = [];
  const onTruth = createOnTruth(guidance);
  const burps = new TrueBurps();
  let now: TruthNow | null = null;
  let showing: ShownCue | null = null;
  const onTick = (tick: EngineTick): void => {
    cues.push(...tick.cues);
    if (now) options.onTick?.(tick, now, engine);
    if (tick.showing !== null && tick.showing !== showing) {
      shown.push({ kind: tick.showing, atSec: tick.moment.atSec });
    }
    showing = tick.showing;
    if (options.onTruth && now) onTruth.trueMilk({ ...engine.pacingInput, intakeMl: now.intakeMl });
  };
  for (let step = 0; step < longestSec * STEPS_PER_SEC && !feed.done; step += 1) {
    const { sample, truth } = feed.step();
    now = truth;
    if (sample) runEngine(engine, encodeMessage(MESSAGES.SAMPLE, sample), onTick);
    if (step % STEPS_PER_TICK !== STEPS_PER_TICK - 1) continue;
    burps.step(truth);
    if (options.onTruth) onTruth.truth(truth);
    if (!options.unlit) feed.perceive(showing === null ? null : (SEEN[showing] ?? null));
  }
  const { cuesOnTruth, cuesOnTrueMilk } = onTruth;
  const { taken: burpsTaken } = burps;
  return {
    engine,
    scenario,
    hardship,
    cues,
    shown,
    cuesOnTruth,
    cuesOnTrueMilk,
    truth: feed.truth,
    burpsTaken,
  };
}

/** The rules on the truth. */
function createOnTruth(guidance: Guidance | undefined) {
  const start = () => createPacing(SHIPPED_PROFILE, { portionMl: null, ...(guidance && { guidance }) });
  const onMilk = start();
  const onAll = start();
  const cuesOnTrueMilk: Cue[] = [];
  const cuesOnTruth: Cue[] = [];
  let sucks = 0;
  let lastSuckAtSec: number | null = null;
  return {
    cuesOnTrueMilk,
    cuesOnTruth,
    trueMilk({ recentIntake: _, doubtMl: __, ...input }: PacingInput): void {
      cuesOnTrueMilk.push(...stepPacing(onMilk, { ...input, quality: 'good' }).cues);
    },
    truth({ atSec, intakeMl, onMouth, tiltDeg, ...truth }: TruthNow): void {
      if (truth.sucks > sucks) lastSuckAtSec = atSec;
      sucks = truth.sucks;
      const input: PacingInput = {
        atSec,
        stepSec: STEPS_PER_TICK / STEPS_PER_SEC,
        intakeMl,
        teatInMouth: onMouth,
        tiltDeg,
        suckCount: sucks,
        lastSuckAtSec,
        quality: 'good',
        buttonDown: false,
      };
      cuesOnTruth.push(...stepPacing(onAll, input).cues);
    },
  };
}

/** Burps taken by the sleeve contract's definition, section 5, on the true mouth and tilt. */
class TrueBurps {
  readonly taken: PacedFeed['burpsTaken'] = [];
  #upSinceSec: number | null = null;

  step({ atSec, onMouth, tiltDeg }: TruthNow): void {
    if (onMouth || tiltDeg >= 60) {
      this.#upSinceSec = null;
      return;
    }
    this.#upSinceSec ??= atSec;
    if (atSec - this.#upSinceSec < 5) return;
    const last = this.taken.at(-1);
    if (last?.fromSec === this.#upSinceSec) last.toSec = atSec;
    else this.taken.push({ fromSec: this.#upSinceSec, toSec: atSec });
  }
}
