/** A relay and a link to it in this process; the test sends and receives the sleeve's bytes by hand. */
import { join } from 'node:path';
import { ReplaySubject, type SchedulerLike, Subject } from 'rxjs';
import { onTestFinished } from 'vitest';
import { createBrokerLink } from '../../firmware-bridge/links/broker/broker-link.ts';
import { createRelay } from '../../firmware-bridge/links/broker/relay.ts';
import type { Relay, RelayOptions } from '../../firmware-bridge/links/broker/relay-kind.ts';
import type { LinkState, SleeveLink } from '../../firmware-bridge/links/link.ts';
import { createHostParser, type HostMessage, parseHostTraffic } from '../../firmware-bridge/wire/index.ts';
import type { TestBroker } from './broker.ts';
import { joined } from './wire.ts';

export const PLACE = { site: 'elm house', room: 'blue' };
export const IDENTITY = {
  contractVersion: 2,
  firmwareVersion: [0, 1, 0] as [number, number, number],
  sleeveNumber: 4711,
  resetCause: 0,
};

let ids = 0;
/** Ids that differ, in a known order. */
export const countedId = (): string => (++ids).toString(16).padStart(16, '0');

export interface HandPort extends SleeveLink {
  /** Bytes from the sleeve. */
  send(bytes: Uint8Array): void;
  /** Messages that the sleeve received. */
  readonly heard: HostMessage[];
  set(state: LinkState): void;
}

export function handPort(): HandPort {
  const bytes$ = new Subject<Uint8Array>();
  const state$ = new ReplaySubject<LinkState>(1);
  const heard: HostMessage[] = [];
  const parser = createHostParser();
  state$.next({ kind: 'open' });
  return {
    label: '/dev/ttyX',
    bytes$,
    state$,
    heard,
    open: async () => {},
    close: async () => {},
    write: (bytes) => void heard.push(...parseHostTraffic(parser, bytes)),
    send: (bytes) => bytes$.next(bytes),
    set: (state) => state$.next(state),
  };
}

export interface RelayedScene {
  port: HandPort;
  said: string[];
  relay: Relay;
}

export function startRelay(
  broker: TestBroker,
  folder: string,
  more: Partial<RelayOptions> = {},
  scheduler?: SchedulerLike,
): RelayedScene {
  const port = (more.link as HandPort | undefined) ?? handPort();
  const said: string[] = [];
  const relay = createRelay(
    {
      link: port,
      identity: IDENTITY,
      address: broker.address,
      place: PLACE,
      folder: join(folder, 'log'),
      newId: countedId,
      say: (text) => said.push(text),
      ...more,
    },
    scheduler,
  );
  onTestFinished(() => relay.close());
  return { port, said, relay };
}

export interface Listening {
  link: SleeveLink;
  states: LinkState[];
  readonly bytes: Uint8Array;
  readonly length: number;
}

export function startLink(
  broker: Pick<TestBroker, 'address'>,
  scheduler?: SchedulerLike,
  sleeveNumber = IDENTITY.sleeveNumber,
): Listening {
  const link = createBrokerLink(
    { address: broker.address, place: PLACE, sleeveNumber, newId: countedId },
    scheduler,
  );
  const chunks: Uint8Array[] = [];
  const states: LinkState[] = [];
  let length = 0;
  link.bytes$.subscribe((bytes) => {
    chunks.push(bytes);
    length += bytes.length;
  });
  link.state$.subscribe((state) => states.push(state));
  onTestFinished(() => link.close());
  return {
    link,
    states,
    get bytes() {
      return joined(chunks);
    },
    get length() {
      return length;
    },
  };
}
