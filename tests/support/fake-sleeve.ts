/** A sleeve that answers by the contract and records what it receives. It does not weigh. */
import type { SleeveModel } from '../../firmware-bridge/links/simulated-link.ts';
import {
  createHostParser,
  type HostMessage,
  type Identity,
  PIN_MODES,
  parseHostTraffic,
  sleeveAnswers,
} from '../../firmware-bridge/wire/index.ts';
import { joined, sampleOf } from './wire.ts';

export interface FakeSleeve extends SleeveModel {
  /** All messages of the host, in order; a test may clear it. */
  readonly heard: HostMessage[];
  /** Raw bytes from the host. */
  readonly received: number[];
  identity: Identity;
  /** While false it does not answer. */
  answers: boolean;
  samples: boolean;
  /** Level of each driven pin: PWM levels of the light. */
  readonly levels: Map<number, number>;
  /** Sends these bytes together with the next ones. */
  say(bytes: Uint8Array): void;
  /** The chip restarts: pins and sequence lost, identity sent, next sample flagged. */
  reset(): void;
  press(down: boolean): void;
}

const SAMPLE_SEC = 0.0125;
const PIN_COUNT = 20;
const BUTTON_PIN = 4;

export function createFakeSleeve(): FakeSleeve {
  const parser = createHostParser();
  let answers: Uint8Array[] = [];
  let sequence = 0;
  let nextSec = 0;
  let fresh = true;
  let reporting = false;
  let down = false;
  let modes = new Map<number, number>();

  const portMask = (): number => (down ? 0 : 1 << BUTTON_PIN);
  const sleeve: FakeSleeve = {
    heard: [],
    received: [],
    identity: { contractVersion: 1, firmwareVersion: [0, 1, 0], sleeveNumber: 4711, resetCause: 0 },
    answers: true,
    samples: true,
    levels: new Map(),
    say: (bytes) => answers.push(bytes),
    reset() {
      modes = new Map();
      sleeve.levels.clear();
      sequence = 0;
      fresh = true;
      reporting = false;
      answers.push(sleeveAnswers.identity(sleeve.identity));
    },
    press(isDown) {
      down = isDown;
      if (reporting) answers.push(sleeveAnswers.digitalPort(0, portMask()));
    },
    advance(untilSec) {
      const out = answers;
      answers = [];
      for (; nextSec < untilSec - 1e-9; nextSec += SAMPLE_SEC) {
        if (!sleeve.samples) continue;
        out.push(
          sleeveAnswers.sample(
            sampleOf(sequence++, { timeMicros: Math.round(nextSec * 1e6) >>> 0, flags: fresh ? 0x80 : 0 }),
          ),
        );
        fresh = false;
      }
      return joined(out);
    },
    receive(bytes) {
      sleeve.received.push(...bytes);
      for (const message of parseHostTraffic(parser, bytes)) {
        sleeve.heard.push(message);
        if (sleeve.answers) answer(message);
      }
    },
  };

  function answer(message: HostMessage): unknown {
    switch (message.kind) {
      case 'version-query':
        return sleeve.say(sleeveAnswers.protocolVersion(2, 5));
      case 'firmware-query':
        return sleeve.say(sleeveAnswers.firmware('ebbline-sleeve', 0, 1));
      case 'capability-query':
        return sleeve.say(sleeveAnswers.capabilities(Array.from({ length: PIN_COUNT }, capabilitiesOf)));
      case 'analog-mapping-query':
        return sleeve.say(sleeveAnswers.analogMapping(Array.from({ length: PIN_COUNT }, () => null)));
      case 'identity-request':
        return sleeve.say(sleeveAnswers.identity(sleeve.identity));
      case 'pin-mode':
        modes.set(message.pin, message.mode);
        return null;
      case 'analog':
        // Like the chip: a level for a pin that is not in PWM mode has no effect.
        if (modes.get(message.pin) === PIN_MODES.pwm) sleeve.levels.set(message.pin, message.level);
        return null;
      case 'report-digital':
        reporting = message.on;
        if (reporting) sleeve.say(sleeveAnswers.digitalPort(message.port, portMask()));
        return null;
      default:
        return null;
    }
  }
  return sleeve;
}

function capabilitiesOf(_: unknown, pin: number): { mode: number; bits: number }[] {
  const digital = [PIN_MODES.input, PIN_MODES.output, PIN_MODES.pullup].map((mode) => ({ mode, bits: 1 }));
  if ([3, 5, 6].includes(pin)) return [...digital, { mode: PIN_MODES.pwm, bits: 8 }];
  return pin === BUTTON_PIN ? digital : [];
}
