/**
 * Light, sound and heartbeats of a sleeve as bytes alone, for programs that guide many sleeves: nothing is asked of the chip, so they work from the first
 * byte on. State that a chip loses in a reset is sent again. The button's state comes with the samples.
 */
import { pinNamed } from '../../hardware/pins.ts';
import {
  createScanner,
  encodeMessage,
  FIRMATA,
  MESSAGES,
  PIN_MODES,
  SAMPLE_FLAGS,
  type Sound,
  scan,
} from '../wire/index.ts';
import type { SleeveLink } from './link.ts';

const PINS = (['LIGHT_RED', 'LIGHT_GREEN', 'LIGHT_BLUE'] as const).map((name) => pinNamed(name).number);
const SILENCE: Sound = { frequencyHz: 0, onMs: 0, offMs: 0, repeats: 0 };

const MODES = Uint8Array.from(PINS.flatMap((pin) => [FIRMATA.pinMode, pin, PIN_MODES.pwm]));

/** Levels of three colors, 0 to 255, as Firmata analog messages, whose data bytes hold seven bits each. */
const levels = (...colors: number[]): Uint8Array =>
  Uint8Array.from(colors.flatMap((level, i) => [FIRMATA.analog | PINS[i]!, level & 0x7f, level >> 7]));

export interface LightAndSound {
  setLight(color: { red: number; green: number; blue: number }): void;
  /** Null: silence. */
  sound(sound: Sound | null): void;
  heartbeat(guidanceOn: boolean): void;
  close(): void;
}

export function lightAndSound(link: Pick<SleeveLink, 'bytes$' | 'state$' | 'write'>): LightAndSound {
  let light = levels(0, 0, 0);
  const restore = (): void => {
    link.write(MODES);
    link.write(light);
  };
  const scanner = createScanner();
  const sink = {
    sample({ flags }: { flags: number }) {
      if (flags & SAMPLE_FLAGS.firstAfterReset) restore();
    },
    identity: restore,
  };
  const heard = link.bytes$.subscribe((bytes) => scan(scanner, bytes, sink));
  heard.add(
    link.state$.subscribe(({ kind }) => {
      if (kind === 'open') restore();
    }),
  );
  return {
    setLight({ red, green, blue }) {
      light = levels(red, green, blue);
      link.write(light);
    },
    sound: (sound) => link.write(encodeMessage(MESSAGES.SOUND, sound ?? SILENCE)),
    heartbeat(guidanceOn) {
      link.write(encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: guidanceOn ? 1 : 0 }));
      // If a change was lost on the way, an old cue would stay on the light.
      if (guidanceOn) link.write(light);
    },
    close: () => heard.unsubscribe(),
  };
}
