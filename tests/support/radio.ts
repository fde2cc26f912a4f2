/** A radio in place of the wire, between the sleeve and the link: late, with packets that are lost, sent again or doubled. Seeded, in virtual time. */
import { Observable } from 'rxjs';
import type { SimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import { Random } from '../../src/base/random.ts';
import type { VirtualClock } from './virtual-clock.ts';

export interface Radio {
  seed: number;
  /** Share of the packets that do not arrive at the first time. */
  lostShare: number;
  /** Whether the radio sends a lost one again (as a serial profile with an acknowledged link does), or leaves a hole. */
  resends: boolean;
  /** Share of the packets that arrive twice; by a radio without numbers of its own. */
  doubledShare?: number;
  /** Longest that a packet is on its way, ms. */
  latestMs: number;
  /** The same on the way to the sleeve; else what is written arrives at once. */
  bothWays?: boolean;
}

/** Time until a lost packet is missed and sent again, ms. Assumed: some connection intervals of a radio of low energy. */
const RESEND_MS = 45;

/** @returns the link as it is heard through the radio; packets keep their order, as a serial line's do */
export function throughRadio(link: SimulatedLink, clock: VirtualClock, radio: Radio): SimulatedLink {
  const bytes$ = new Observable<Uint8Array>((heard) =>
    link.bytes$.subscribe(oneWay('radio', clock, radio, (bytes) => heard.next(bytes))),
  );
  const write = radio.bothWays
    ? oneWay('radio to the sleeve', clock, radio, (bytes) => link.write(bytes))
    : (bytes: Uint8Array) => link.write(bytes);
  return new Proxy(link, {
    get: (of, key) => (key === 'bytes$' ? bytes$ : key === 'write' ? write : Reflect.get(of, key, of)),
  });
}

function oneWay(
  name: string,
  clock: VirtualClock,
  radio: Radio,
  arrives: (bytes: Uint8Array) => void,
): (bytes: Uint8Array) => void {
  const random = new Random(radio.seed, name);
  let freeAtMs = 0;
  const arrive = (bytes: Uint8Array, atMs: number): void => {
    clock.scheduler.schedule(() => arrives(bytes), atMs - clock.nowMs);
  };
  return (bytes) => {
    let takesMs = random.between([5, radio.latestMs]);
    while (random.uniform() < radio.lostShare) {
      if (!radio.resends) return;
      takesMs += RESEND_MS;
    }
    freeAtMs = Math.max(freeAtMs, clock.nowMs + Math.min(takesMs, radio.latestMs));
    arrive(bytes, freeAtMs);
    if (random.uniform() < (radio.doubledShare ?? 0)) arrive(bytes, freeAtMs);
  };
}
