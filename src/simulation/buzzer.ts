/** The sleeve's buzzer: plays SOUND messages by device time, and logs them. */
import type { Sound } from '../../firmware-bridge/wire/messages.ts';

/** One SOUND as it was played. `stoppedAtSec`: when it was cut short by another sound, by silence or by the missing heartbeat. */
export interface Tone {
  atSec: number;
  frequencyHz: number;
  onMs: number;
  offMs: number;
  repeats: number;
  stoppedAtSec: number | null;
}

const LOG_LENGTH = 1000;

export class Buzzer {
  /** Latest last; limited in number, the oldest are dropped. */
  readonly tones: Tone[] = [];

  play(sound: Sound, atSec: number): void {
    this.silence(atSec);
    if (sound.frequencyHz === 0 || sound.repeats === 0 || sound.onMs === 0) return;
    const { frequencyHz, onMs, offMs, repeats } = sound;
    this.tones.push({ atSec, frequencyHz, onMs, offMs, repeats, stoppedAtSec: null });
    if (this.tones.length > LOG_LENGTH) this.tones.shift();
  }

  silence(atSec: number): void {
    const tone = this.tones.at(-1);
    if (tone && tone.stoppedAtSec === null && atSec < endSec(tone)) tone.stoppedAtSec = atSec;
  }

  /** @returns pitch at this moment, Hz; 0 when silent. */
  frequencyAt(atSec: number): number {
    const tone = this.tones.at(-1);
    if (!tone || atSec < tone.atSec || atSec >= (tone.stoppedAtSec ?? endSec(tone))) return 0;
    const intoMs = ((atSec - tone.atSec) * 1000) % (tone.onMs + tone.offMs);
    return intoMs < tone.onMs ? tone.frequencyHz : 0;
  }
}

const endSec = (tone: Tone): number => tone.atSec + ((tone.onMs + tone.offMs) * tone.repeats) / 1000;
