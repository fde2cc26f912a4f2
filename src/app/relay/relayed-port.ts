/** One port of a relay: whatever fails is tried again, and one port does not stop the others. */
import { join } from 'node:path';
import { firstValueFrom, type SchedulerLike, Subject, Subscription, timer } from 'rxjs';
import type { BrokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import { createRelay } from '../../../firmware-bridge/links/broker/relay.ts';
import type { Place } from '../../../firmware-bridge/links/broker/topics.ts';
import { hello } from '../../../firmware-bridge/links/hello.ts';
import { createIdentifiedLink } from '../../../firmware-bridge/links/identified-link.ts';
import type { SleeveLink } from '../../../firmware-bridge/links/link.ts';
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import { createSerialLink } from '../../../firmware-bridge/links/serial-link.ts';
import { PlainError } from '../../base/errors.ts';
import { newId } from './broker-choice.ts';

export interface RelayedPort {
  address: BrokerAddress;
  place: Place;
  /** Folder for the bytes of all sleeves that this computer relays. */
  folder: string;
  say: (text: string) => void;
  /** Default: the serial port of that name. */
  linkOf?: (port: string) => SleeveLink;
}

const TRY_AGAIN_MS = 5000;

/** Starts at once. */
export function relayPort(
  port: string,
  options: RelayedPort,
  scheduler: SchedulerLike = monotonic,
): { close(): Promise<void> } {
  const stopped = new Subject<void>();
  let isStopped = false;
  let said: string | null = null;
  const running = (async () => {
    while (!isStopped) {
      try {
        await relaySleeve(port, options, stopped, scheduler);
        said = null;
      } catch (error) {
        if (!(error instanceof PlainError)) throw error;
        if (error.text !== said)
          options.say(`${error.text} It is tried again every ${TRY_AGAIN_MS / 1000} s.`);
        said = error.text;
        if (!isStopped) await pause(TRY_AGAIN_MS, stopped, scheduler);
      }
    }
  })();
  return {
    async close() {
      isStopped = true;
      stopped.next();
      await running;
    },
  };
}

/** Resolves when it is stopped, or another sleeve is on the port. @throws PlainError  no such port, no sleeve, no room on the disk */
async function relaySleeve(
  port: string,
  { address, place, folder, say, linkOf = createSerialLink }: RelayedPort,
  stopped: Subject<void>,
  scheduler: SchedulerLike,
): Promise<void> {
  const raw = linkOf(port);
  await raw.open();
  const over = new Subject<void>();
  const ending = stopped.subscribe(() => over.next());
  let wasStopped = false;
  const until = new Promise<void>((resolve) =>
    over.subscribe(() => {
      wasStopped = true;
      resolve();
    }),
  );
  // Bytes that come before its number is known are its own too.
  const heard: Uint8Array[] = [];
  const hearing = raw.bytes$.subscribe((bytes) => heard.push(Uint8Array.from(bytes)));
  try {
    const identity = await firstValueFrom(hello(raw, {}, scheduler));
    const onOther = ({ sleeveNumber }: { sleeveNumber: number }): never => {
      over.next();
      throw new PlainError(
        'other-sleeve',
        `Another sleeve, number ${sleeveNumber}, is on ${port} now.`,
        'It is passed on under its own number.',
      );
    };
    const link = createIdentifiedLink(raw, { identity, onOther }, scheduler);
    const relay = createRelay(
      {
        link,
        identity,
        address,
        place,
        folder: join(folder, place.site, place.room, String(identity.sleeveNumber)),
        newId,
        heard,
        say: (text) => say(`${port}: ${text}`),
      },
      scheduler,
    );
    hearing.unsubscribe();
    if (!wasStopped) await until;
    await relay.close();
  } finally {
    hearing.unsubscribe();
    ending.unsubscribe();
    await raw.close();
  }
}

const pause = (ms: number, stopped: Subject<void>, scheduler: SchedulerLike): Promise<void> =>
  new Promise((resolve) => {
    const both = new Subscription();
    const done = (): void => {
      both.unsubscribe();
      resolve();
    };
    both.add(timer(ms, scheduler).subscribe(done));
    both.add(stopped.subscribe(done));
  });
