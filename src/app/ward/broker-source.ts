/** Sleeve states of a room from a broker, published by the workers that guide them. */
import type { SchedulerLike } from 'rxjs';
import { Subject } from 'rxjs';
import type { BrokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import { lastingSession } from '../../../firmware-bridge/links/broker/broker-session.ts';
import { type Place, sleeveTopics } from '../../../firmware-bridge/links/broker/topics.ts';
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import { readSleeveState, type SleeveState } from '../../ward/board/sleeve-state.ts';
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
): RoomSource {
  const told$ = new Subject<{ state: SleeveState; isOfNow: boolean }>();
  let isThere = false;
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
        isThere = true;
        session.messages$.subscribe(({ payload, isRetained }) => {
          const told = readSleeveState(jsonOf(payload));
          if (told) told$.next({ state: told, isOfNow: !isRetained });
        });
      },
      halt: (error) => {
        if (isThere) say(`${error.text} It is tried again.`);
        isThere = false;
      },
    },
    scheduler,
  );
  return { told$, isCutOff: () => !isThere, close: async () => running.unsubscribe() };
}

function jsonOf(payload: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(payload));
  } catch {
    return null;
  }
}
