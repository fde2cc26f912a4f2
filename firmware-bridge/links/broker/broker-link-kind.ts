/** Options of a link through a broker, and what it offers beyond other links. Types only. */
import type { SleeveLink } from '../link.ts';
import type { BrokerAddress } from './broker-address.ts';
import type { Received } from './in-order.ts';
import type { Place } from './topics.ts';

export interface BrokerLinkOptions {
  address: BrokerAddress;
  place: Place;
  sleeveNumber: number;
  /** Returns 16 random hexadecimal digits. */
  newId: () => string;
  /** Number of the relay's request for a guide; absent: there was no request. */
  epoch?: number;
  /** First byte wanted; absent: from now on. */
  from?: Pick<Received, 'stream' | 'next'>;
  /** Without `from`: begin so many bytes before those of now, as far as the relay stores them. */
  reachBackBytes?: number;
}

/** A link through a broker. */
export interface BrokerSleeveLink extends SleeveLink {
  /** Id of this guide: 16 hexadecimal digits. */
  readonly id: string;
  /** What was received, including the bytes being emitted now; null before the first. */
  readonly received: Received | null;
  /** Whether the relay obeys another guide. */
  readonly isReplaced: boolean;
  /** Sends the relay a checkpoint to store for the next guide. */
  leaveCheckpoint(checkpoint: Uint8Array): void;
  /** Publishes a retained message on the sleeve's topic for boards. */
  publishState(state: Uint8Array, expirySec: number): void;
}
