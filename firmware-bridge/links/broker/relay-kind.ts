/** What a relay is made of. Types only. */
import type { Identity } from '../../wire/index.ts';
import type { SleeveLink } from '../link.ts';
import type { BrokerAddress } from './broker-address.ts';
import type { ByteLog } from './byte-log.ts';
import type { Place } from './topics.ts';

export interface RelayOptions {
  /** Open, and known to be the sleeve of `identity`. */
  link: SleeveLink;
  identity: Identity;
  address: BrokerAddress;
  place: Place;
  /** Where the bytes of this sleeve are kept. */
  folder: string;
  /** Gives 16 random hexadecimal digits. */
  newId: () => string;
  /** Told in plain sentences what happens. */
  say: (text: string) => void;
  /** What came before its name did. */
  heard?: readonly Uint8Array[];
  keepBytes?: number;
  log?: ByteLog;
}

export interface Relay {
  /** Says that it goes, and lets go of the broker and the disk; not of the link. */
  close(): Promise<void>;
}
