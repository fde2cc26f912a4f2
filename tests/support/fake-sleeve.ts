/** A sleeve that answers as the contract asks and writes down what it hears. It weighs nothing. */
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
  /** Everything the host said, in order; a test may empty it. */
  readonly heard: HostMessage[];
  /** Raw bytes from the host. */
  readonly received: number[];
  identity: Identity;
  /** Answers nothing while false. */
  answers: boolean;
  samples: boolean;
  /** Level of each pin as driven: PWM levels of the light. */
  readonly levels: Map<number, number>;
  /** Sends these bytes with the next ones. */
  say(bytes: Uint8Array): void;
  /** The chip starts anew: pins and sequence forgotten, identity sent, next sample flagged. */
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
        // As the chip would: a level on a pin that is not in PWM mode does nothing.
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
