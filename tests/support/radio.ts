/** A radio between the sleeve and the link in place of a wire: packets are delayed, lost, sent again or doubled. Seeded, in virtual time. */
import { Observable } from 'rxjs';
import type { SimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import { Random } from '../../src/base/random.ts';
import type { VirtualClock } from './virtual-clock.ts';

export interface Radio {
  seed: number;
  /** Share of packets lost on the first attempt. */
  lostShare: number;
  /** True: the radio sends a lost packet again (like a serial profile with an acknowledged link); false: it is missing. */
  resends: boolean;
  /** Share of packets that arrive twice, with a radio that does not number them. */
  doubledShare?: number;
  /** Longest delay of a packet, ms. */
  latestMs: number;
  /** True: the same toward the sleeve; false: written bytes arrive at once. */
  bothWays?: boolean;
}

/** Time until a lost packet is noticed and sent again, ms. Assumed: some connection intervals of Bluetooth Low Energy. */
const RESEND_MS = 45;

/** @returns the link as received through the radio; packets stay in order, as on a serial line */
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
