/** Sleeve states of a room from a broker, published by the workers that guide them. */
import type { SchedulerLike } from 'rxjs';
import { Subject } from 'rxjs';
import type { BrokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import { type BrokerSession, lastingSession } from '../../../firmware-bridge/links/broker/broker-session.ts';
import { type Place, sleeveTopics } from '../../../firmware-bridge/links/broker/topics.ts';
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import { readSleeveState, type SleeveState } from '../../ward/board/sleeve-state.ts';
import { encodeStop } from '../../ward/board/stop-message.ts';
import type { RoomSource } from './room-board.ts';

export interface BrokerSourceOptions {
  address: BrokerAddress;
  place: Place;
  /** 16 hexadecimal digits. */
  id: string;
  /** Called with a plain text when the broker is lost. */
  say: (text: string) => void;
}

export function brokerSource(
  { address, place, id, say }: BrokerSourceOptions,
  scheduler: SchedulerLike = monotonic,
): RoomSource & { trouble: () => string | null } {
  const told$ = new Subject<{ state: SleeveState; isOfNow: boolean }>();
  /** Why nothing can be heard; null while it can. */
  let trouble: string | null = `The connection to the broker ${address.label} is not there yet.`;
  let current: BrokerSession | null = null;
  const { state } = sleeveTopics(place, '+');
  const running = lastingSession(
    {
      address,
      options: () => ({
        clientId: `ebbline-board-${id}`,
        keepSec: 0,
        topics: [state],
      }),
      begin: (session) => {
        trouble = null;
        current = session;
        session.messages$.subscribe(({ payload, isRetained }) => {
          const told = readSleeveState(jsonOf(payload));
          if (told) told$.next({ state: told, isOfNow: !isRetained });
        });
      },
      halt: (error) => {
        if (trouble !== error.text) say(`${error.text} It is tried again.`);
        trouble = error.text;
        current = null;
      },
    },
    scheduler,
  );
  return {
    told$,
    isCutOff: () => trouble !== null,
    trouble: () => trouble,
    stop(sleeve, forSec) {
      const { stop } = sleeveTopics(place, sleeve);
      current?.publish(stop, encodeStop(forSec), { retain: true, expirySec: Math.max(1, forSec) });
    },
    close: async () => running.unsubscribe(),
  };
}

function jsonOf(payload: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(payload));
  } catch {
    return null;
  }
}
