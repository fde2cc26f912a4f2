/** Source of the holds of a calibration: a sleeve on a port, or a simulated bench. */
import { asyncScheduler, firstValueFrom, type SchedulerLike, Subscription, timer } from 'rxjs';
import { hello } from '../../../firmware-bridge/links/hello.ts';
import type { SleeveLink } from '../../../firmware-bridge/links/link.ts';
import {
  createSampleReader,
  encodeMessage,
  MESSAGES,
  type TimedSample,
} from '../../../firmware-bridge/wire/index.ts';
import { PlainError } from '../../base/errors.ts';
import { type Hold, holdFromSamples } from '../../calibration/walk/hold.ts';
import { askedDirection, type Step } from '../../calibration/walk/plan.ts';
import { MARKS } from '../../calibration/walk/sleeve-design.ts';
import type { WalkState } from '../../calibration/walk/walk-state.ts';

export interface HoldSource {
  readonly sleeveNumber: number | null;
  readonly simulated: boolean;
  /** Height of the nipple's tip as the simulation knows it; null: ask the person. */
  readonly teatTipZMm: number | null;
  /** Waits for one hold of this step. @throws PlainError when nothing comes */
  take(step: Step, walk: WalkState): Promise<Hold>;
  /** A hold with a finger pressing at the tip. */
  takePush(walk: WalkState): Promise<Hold>;
  close(): Promise<void>;
}

const HOLD_SEC = 3;
/** The table still swings after Enter was pressed. */
const SETTLE_SEC = 0.5;
const PATIENCE_MS = 10_000;

/** A real sleeve on a port. @throws PlainError when it cannot be opened or does not answer */
export async function serialHolds(port: string): Promise<HoldSource> {
  const { createSerialLink } = await import('../../../firmware-bridge/links/serial-link.ts');
  return linkHolds(createSerialLink(port), { scheduler: asyncScheduler, wallNowMs: () => Date.now() });
}

export interface LinkClock {
  scheduler: SchedulerLike;
  /** Times of holds are seconds since the walk began by this clock, so that a walk can be continued after a pause. */
  wallNowMs: () => number;
}

/** A sleeve on a link, opened and identified; a person moves it. */
export async function linkHolds(link: SleeveLink, { scheduler, wallNowMs }: LinkClock): Promise<HoldSource> {
  await link.open();
  try {
    const { sleeveNumber } = await firstValueFrom(hello(link, {}, scheduler));
    // An earlier program may have switched it off.
    link.write(encodeMessage(MESSAGES.STREAM, { on: 1 }));
    const take = async (walk: WalkState): Promise<Hold> => {
      const hold = holdFromSamples(await samplesOf(link, scheduler));
      return { ...hold, atSec: (wallNowMs() - Date.parse(walk.startedAt)) / 1000 };
    };
    return {
      sleeveNumber,
      simulated: false,
      teatTipZMm: null,
      take: (_, walk) => take(walk),
      takePush: take,
      close: () => link.close(),
    };
  } catch (error) {
    await link.close();
    throw error;
  }
}

/** Samples of the next seconds, from now on, without a gap; after a gap collecting starts again. */
function samplesOf(link: SleeveLink, scheduler: SchedulerLike): Promise<TimedSample[]> {
  return new Promise((resolve, reject) => {
    let samples: TimedSample[] = [];
    const heard = new Subscription();
    const tooFew = (): void => {
      heard.unsubscribe();
      reject(
        new PlainError(
          'hold-no-samples',
          `The sleeve on ${link.label} gave no ${HOLD_SEC} seconds of readings without a gap within ${PATIENCE_MS / 1000} seconds.`,
          'Check the cable and that the sleeve is switched on, then repeat the step.',
        ),
      );
    };
    heard.add(timer(PATIENCE_MS, scheduler).subscribe(tooFew));
    const reader = createSampleReader((sample) => {
      if (sample.atSec < SETTLE_SEC || heard.closed) return;
      if (sample.resetBefore || sample.missingBefore > 0) samples = [];
      samples.push(sample);
      if (sample.atSec - samples[0]!.atSec < HOLD_SEC) return;
      heard.unsubscribe();
      resolve(samples);
    });
    heard.add(link.bytes$.subscribe((bytes) => reader.take(bytes)));
  });
}

/** The simulated bench replaces the person's hands. */
export async function simulatedHolds(
  seed: number,
  walk: WalkState | null,
  bottleSeed = seed,
): Promise<HoldSource> {
  const { CalibrationBench } = await import('../../simulation/calibration-bench.ts');
  const { bottleLike } = await import('../../simulation/bottle-like.ts');
  const { DEFAULT_BOTTLE } = await import('../../simulation/bottle.ts');
  const bench = new CalibrationBench({ seed, bottle: bottleLike(DEFAULT_BOTTLE, bottleSeed) });
  // A continued walk goes on in time after the last hold.
  const doneSec = Math.max(0, ...Object.values(walk?.holds ?? {}).map(({ atSec }) => atSec));
  if (doneSec > 0) bench.pass(doneSec);
  return {
    sleeveNumber: seed,
    simulated: true,
    teatTipZMm: Math.round(bench.bottle.teatTipZMm),
    async take(step, { massesGrams, fillsGrams }) {
      bench.pass(20);
      const asked = [...askedDirection(step)] as [number, number, number];
      if (step.kind === 'bottle') {
        const grams = step.fill === null ? 0 : (fillsGrams[step.fill] ?? 0);
        return holdFromSamples(bench.hold(asked, { bottleWithGrams: grams }, HOLD_SEC));
      }
      const placed = step.kind === 'pose' ? step.placed : null;
      const masses = placed
        ? [
            {
              stack: placed.stack,
              grams: massesGrams[placed.stack] ?? 0,
              xMm: MARKS[placed.mark].xMm,
              zMm: MARKS[placed.mark].zMm,
              putOn: placed.placement,
            },
          ]
        : [];
      return holdFromSamples(bench.hold(asked, { masses }, HOLD_SEC));
    },
    async takePush() {
      bench.pass(10);
      return holdFromSamples(
        bench.hold([1, 0, 0], { bottleWithGrams: 0, push: { xN: 1.5, zN: 0 } }, HOLD_SEC),
      );
    },
    async close() {},
  };
}
