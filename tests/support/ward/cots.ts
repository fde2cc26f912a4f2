/**
 * The cots of a house as a process of its own: many relays, each with a sleeve that sends a capture's bytes by the clock, whether its relay lives or
 * not. Started by `ward.ts`; its first message sets what to do, and it answers `report` with what the sleeves received.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BrokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import { createRelay } from '../../../firmware-bridge/links/broker/relay.ts';
import { newId } from '../../../src/app/relay/broker-choice.ts';
import { handPort, IDENTITY } from '../relayed.ts';

export interface CotsOptions {
  address: BrokerAddress;
  place: { site: string; room: string };
  folder: string;
  capture: string;
  bytesPerSec: number;
  /** Each sleeve: its number, and when its capture begins, ms since 1970. */
  sleeves: { number: number; startsAtMs: number }[];
}

/** What one sleeve received: light when it was set, heartbeats when they changed, ms since 1970; and how far it has sent. */
export interface CotReport {
  number: number;
  sentBytes: number;
  /** Bytes sent while no relay was running. */
  lostBytes: number;
  lights: [atMs: number, red: number, green: number, blue: number][];
  beats: [atMs: number, on: boolean][];
  sounds: number[];
  said: string[];
}

const TICK_MS = 25;
const nowMs = Date.now;

function cot(
  options: CotsOptions,
  { number, startsAtMs }: CotsOptions['sleeves'][number],
  bytes: Uint8Array,
) {
  const report: CotReport = {
    number,
    sentBytes: 0,
    lostBytes: 0,
    lights: [],
    beats: [],
    sounds: [],
    said: [],
  };
  const port = handPort();
  const levels = [0, 0, 0];
  const write = port.write.bind(port);
  port.write = (out) => {
    write(out);
    for (const heard of port.heard.splice(0)) {
      if (heard.kind === 'heartbeat') {
        const on = heard.guidanceOn !== 0;
        if (report.beats.at(-1)?.[1] !== on) report.beats.push([nowMs(), on]);
      } else if (heard.kind === 'analog') {
        const color = PINS.indexOf(heard.pin);
        if (color < 0) continue;
        levels[color] = heard.level;
        const [red, green, blue] = levels as [number, number, number];
        if (color === 2) report.lights.push([nowMs(), red, green, blue]);
      } else if (heard.kind === 'sound' && heard.repeats > 0) report.sounds.push(nowMs());
    }
  };
  createRelay({
    link: port,
    identity: { ...IDENTITY, sleeveNumber: number },
    address: options.address,
    place: options.place,
    folder: join(options.folder, String(number)),
    newId,
    say: (text) => report.said.push(text),
  });
  const reached = (): number =>
    Math.max(0, Math.min(bytes.length, Math.floor(((nowMs() - startsAtMs) * options.bytesPerSec) / 1000)));
  // Bytes sent before this process started are lost.
  report.sentBytes = reached();
  report.lostBytes = report.sentBytes;
  return {
    report,
    tick() {
      const end = reached();
      if (end <= report.sentBytes) return;
      port.send(bytes.subarray(report.sentBytes, end));
      report.sentBytes = end;
    },
  };
}

const PINS = [3, 5, 6];

process.once('message', (options: CotsOptions) => {
  const bytes = new Uint8Array(readFileSync(options.capture));
  const cots = options.sleeves.map((sleeve) => cot(options, sleeve, bytes));
  // A few at each millisecond, like independent sleeves.
  const phases = 5;
  for (let phase = 0; phase < phases; phase++) {
    const mine = cots.filter((_, i) => i % phases === phase);
    setTimeout(
      () => setInterval(() => mine.forEach((one) => void one.tick()), TICK_MS),
      (phase * TICK_MS) / phases,
    );
  }
  process.on('message', () => process.send!(cots.map(({ report }) => report)));
  process.send!('ready');
});
process.send!('up');
process.on('disconnect', () => process.exit(0));
