/** Options and parts of a relay. Types only. */
import type { Identity } from '../../wire/index.ts';
import type { SleeveLink } from '../link.ts';
import type { BrokerAddress } from './broker-address.ts';
import type { ByteLog } from './byte-log.ts';
import type { Place } from './topics.ts';

export interface RelayOptions {
  /** Open, and known to be of the sleeve `identity`. */
  link: SleeveLink;
  identity: Identity;
  address: BrokerAddress;
  place: Place;
  /** Where the bytes of this sleeve are stored. */
  folder: string;
  /** Returns 16 random hexadecimal digits. */
  newId: () => string;
  /** Called with plain sentences about what happens. */
  say: (text: string) => void;
  /** Bytes that came before the sleeve's number was known. */
  heard?: readonly Uint8Array[];
  keepBytes?: number;
  log?: ByteLog;
}

export interface Relay {
  /** Announces its end, and releases broker and disk, but not the link. */
  close(): Promise<void>;
}
