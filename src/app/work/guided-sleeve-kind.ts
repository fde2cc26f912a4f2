/** What one guided sleeve needs. */
import type { BrokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import type { Place } from '../../../firmware-bridge/links/broker/topics.ts';
import type { Checkpoint } from './checkpoint.ts';
import type { StoreFront } from './storing/store-front.ts';
import type { SleeveBinding } from './storing/store-ops.ts';

export interface GuidedSleeveOptions {
  address: BrokerAddress;
  place: Place;
  sleeveNumber: number;
  epoch: number;
  checkpoint: Checkpoint | null;
  binding: SleeveBinding;
  front: StoreFront;
  worker: string;
  wallNowMs: () => number;
  /** Until when its bottle must not be given, by the scheduler. */
  stoppedUntilMs: () => number;
  /** Called when another worker has taken it, or it cannot be guided; it is closed then. `fault`: an error of the program in one of its steps. */
  gone: (fault?: unknown) => void;
}
