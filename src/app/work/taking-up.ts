/** From where a sleeve that asks for a guide is guided: by the last guide's checkpoint, by the store, or by the bytes that its relay has stored. */
import type { SchedulerLike } from 'rxjs';
import type { BrokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import type { Place } from '../../../firmware-bridge/links/broker/topics.ts';
import { PlainError } from '../../base/errors.ts';
import type { Checkpoint } from './checkpoint.ts';
import { inTime } from './in-time.ts';
import { lookBack, wordsOf } from './missing-checkpoint.ts';
import type { LatestFeed } from './storing/latest-feed.ts';
import type { StoreFront } from './storing/store-front.ts';
import type { SleeveBinding } from './storing/store-ops.ts';

/** A sleeve that asks for a guide. */
export interface Asking {
  key: string;
  place: Place;
  sleeveNumber: number;
  epoch: number;
  checkpoint: Checkpoint | null;
}

export interface Start {
  epoch: number;
  checkpoint: Checkpoint | null;
  binding: SleeveBinding;
}

interface Around {
  address: BrokerAddress;
  front: Pick<StoreFront, 'bindings' | 'latestFeed'>;
  wallNowMs: () => number;
  say: (text: string) => void;
}

/** If the database does not answer within this time, what the last guide knew is used. */
const BINDING_LIMIT_MS = 1000;
/** The store reads a whole capture. */
const LATEST_LIMIT_MS = 5000;

/** @throws PlainError when the sleeve cannot be guided now */
export async function startOf(asking: Asking, around: Around, scheduler: SchedulerLike): Promise<Start> {
  const { checkpoint, epoch, place, sleeveNumber } = asking;
  const binding = await bindingOf(asking, around, scheduler);
  if (checkpoint) return { checkpoint, epoch, binding };
  const latest = await latestOf(sleeveNumber, around, scheduler);
  if (latest === 'unknown') return { checkpoint, epoch, binding };
  const { address, wallNowMs, say } = around;
  const found = await lookBack(
    { address, place, sleeveNumber, epoch, binding, latest, wallNowMs },
    scheduler,
  );
  const words = wordsOf(found, sleeveNumber);
  if (words !== null) say(words);
  // The relay takes whoever read its bytes for its guide; the next number replaces it.
  return { checkpoint: found.checkpoint, epoch: epoch + 1, binding: found.checkpoint.binding };
}

/** A running feed keeps its binding; else the store is asked, and if it fails the last guide's binding is used. */
async function bindingOf(
  { sleeveNumber, checkpoint }: Asking,
  { front }: Around,
  scheduler: SchedulerLike,
): Promise<SleeveBinding> {
  if (checkpoint?.feed) return checkpoint.binding;
  try {
    const bindings = await inTime(front.bindings([sleeveNumber]), BINDING_LIMIT_MS, scheduler);
    const binding = bindings.get(sleeveNumber);
    if (binding) return binding;
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    if (checkpoint) return checkpoint.binding;
    throw error;
  }
  throw new PlainError(
    'sleeve-unknown',
    `No calibration of sleeve ${sleeveNumber} is kept here, so it is not guided; all others are.`,
    'Calibrate it, and keep that here: ebbline sleeve calibrations --keep FILE.',
  );
}

/** While it is unknown what is stored already, nothing earlier is made again: guidance begins with the bytes of now. */
async function latestOf(
  sleeveNumber: number,
  { front }: Around,
  scheduler: SchedulerLike,
): Promise<LatestFeed | null | 'unknown'> {
  try {
    return await inTime(front.latestFeed(sleeveNumber), LATEST_LIMIT_MS, scheduler);
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    return 'unknown';
  }
}
