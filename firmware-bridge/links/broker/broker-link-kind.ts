/** What a link through a broker is asked for, and what it can beside one on a port. Types only. */
import type { SleeveLink } from '../link.ts';
import type { BrokerAddress } from './broker-address.ts';
import type { Received } from './in-order.ts';
import type { Place } from './topics.ts';

export interface BrokerLinkOptions {
  address: BrokerAddress;
  place: Place;
  sleeveNumber: number;
  /** Gives 16 random hexadecimal digits. */
  newId: () => string;
  /** The number of the relay's question; absent: it was not asked. */
  epoch?: number;
  /** From which byte on; absent: from now. */
  from?: Pick<Received, 'stream' | 'next'>;
}

/** What a link through a broker can beside one on a port. */
export interface BrokerSleeveLink extends SleeveLink {
  /** Which guide this is: 16 hexadecimal digits. */
  readonly id: string;
  /** What has come, up to and with the bytes that are told now; null before the first. */
  readonly received: Received | null;
  /** Whether the relay listens to somebody else. */
  readonly isReplaced: boolean;
  /** Gives the relay something to keep for whoever guides next. */
  leaveCheckpoint(checkpoint: Uint8Array): void;
  /** Retained, on the sleeve's topic for boards. */
  publishState(state: Uint8Array, expirySec: number): void;
}
