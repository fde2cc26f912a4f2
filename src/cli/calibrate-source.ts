/** Where the holds of a calibration come from: a sleeve on a port, or a simulated one on a simulated bench. */
import { firstValueFrom } from 'rxjs';
import { hello } from '../../firmware-bridge/links/hello.ts';
import type { SleeveLink } from '../../firmware-bridge/links/link.ts';
import { createScanner, scan, stepTimeline, TIMELINE_START } from '../../firmware-bridge/wire/index.ts';
import { type Hold, holdFromSamples } from '../calibration/hold.ts';
import { askedDirection, type Step } from '../calibration/plan.ts';
import type { Session } from '../calibration/session.ts';
import { MARKS } from '../calibration/sleeve-design.ts';
import { PlainError } from '../errors.ts';
import type { SensorSample } from '../sensing/loads.ts';

export interface HoldSource {
  readonly sleeveNumber: number | null;
  readonly simulated: boolean;
  /** Height of the nipple's tip that the person would measure; null: ask. */
  readonly teatTipZMm: number | null;
  /** Waits for one hold of this step. @throws PlainError when nothing comes */
  take(step: Step, session: Session): Promise<Hold>;
  /** A hold with a finger pressing at the tip. */
  takePush(session: Session): Promise<Hold>;
  close(): Promise<void>;
}

const HOLD_SEC = 3;
const PATIENCE_MS = 10_000;

/** A real sleeve. Times are seconds since the session began, so that a walk can go on after a pause. */
export async function serialHolds(port: string): Promise<HoldSource> {
  const { createSerialLink } = await import('../../firmware-bridge/links/serial-link.ts');
  const link = createSerialLink(port);
  await link.open();
  try {
    const { sleeveNumber } = await firstValueFrom(hello(link));
    const take = async (session: Session): Promise<Hold> => {
      const hold = holdFromSamples(await samplesOf(link));
      return { ...hold, atSec: (Date.now() - Date.parse(session.startedAt)) / 1000 };
    };
    return {
      sleeveNumber,
      simulated: false,
      teatTipZMm: null,
      take: (_, session) => take(session),
      takePush: take,
      close: () => link.close(),
    };
  } catch (error) {
    await link.close();
    throw error;
  }
}

/** Samples of the next seconds, from now on. */
function samplesOf(link: SleeveLink): Promise<SensorSample[]> {
  return new Promise((resolve, reject) => {
    const scanner = createScanner();
    const samples: SensorSample[] = [];
    let timeline = TIMELINE_START;
    const end = (): void => {
      clearTimeout(timer);
      heard.unsubscribe();
    };
    const timer = setTimeout(() => {
      end();
      reject(
        new PlainError(
          'hold-no-samples',
          `The sleeve on ${link.label} sent only ${samples.length} samples in ${PATIENCE_MS / 1000} seconds.`,
          'Check the cable and that the sleeve is switched on, then repeat the step.',
        ),
      );
    }, PATIENCE_MS);
    const heard = link.bytes$.subscribe((bytes) =>
      scan(scanner, bytes, {
        sample: (sample) => {
          const step = stepTimeline(timeline, sample);
          timeline = step.timeline;
          if (step.timed) samples.push(step.timed);
          if (samples.length > 1 && samples.at(-1)!.atSec - samples[0]!.atSec >= HOLD_SEC) {
            end();
            resolve(samples);
          }
        },
      }),
    );
  });
}

/** The simulated bench plays the person's hands too. */
export async function simulatedHolds(seed: number, session: Session | null): Promise<HoldSource> {
  const { CalibrationBench, bottleLike } = await import('../simulation/calibration-bench.ts');
  const { DEFAULT_BOTTLE } = await import('../simulation/bottle.ts');
  const bench = new CalibrationBench({ seed, bottle: bottleLike(DEFAULT_BOTTLE, seed) });
  // A walk taken up again goes on after what was done.
  const doneSec = Math.max(0, ...Object.values(session?.holds ?? {}).map(({ atSec }) => atSec));
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
