/** The simulated sleeve's battery: it discharges in use and answers questions about its cell. */
import { encodeMessage } from '../../firmware-bridge/wire/codec.ts';
import { MESSAGES } from '../../firmware-bridge/wire/messages.ts';
import { millivoltsAt, minutesLeft } from '../base/battery-gauge.ts';

const ASKED_LENGTH = 3;

/**
 * @param percentAtStart charge when the sleeve is switched on; null: not measured, and no answer
 * @returns the answer to a message of the host, null if there is none
 */
export function batteryAnswer(frame: Uint8Array, percentAtStart: number | null, nowSec: number) {
  if (frame[1] !== MESSAGES.BATTERY.id || frame.length !== ASKED_LENGTH || percentAtStart === null)
    return null;
  const gone = (100 * (nowSec / 60)) / minutesLeft(100);
  const millivolts = Math.round(millivoltsAt(Math.max(0, percentAtStart - gone)));
  return encodeMessage(MESSAGES.BATTERY, { millivolts });
}
