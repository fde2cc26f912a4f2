/** The simulated sleeve's battery: it runs down in use, and tells of its cell when it is asked. */
import { encodeMessage } from '../../firmware-bridge/wire/codec.ts';
import { MESSAGES } from '../../firmware-bridge/wire/messages.ts';
import { millivoltsAt, minutesLeft } from '../base/battery-gauge.ts';

const ASKED_LENGTH = 3;

/**
 * @param percentAtStart how full it is when the sleeve is switched on; null: it is not measured, and nothing is answered
 * @returns the answer to a message of the host, null where there is none
 */
export function batteryAnswer(frame: Uint8Array, percentAtStart: number | null, nowSec: number) {
  if (frame[1] !== MESSAGES.BATTERY.id || frame.length !== ASKED_LENGTH || percentAtStart === null)
    return null;
  const gone = (100 * (nowSec / 60)) / minutesLeft(100);
  const millivolts = Math.round(millivoltsAt(Math.max(0, percentAtStart - gone)));
  return encodeMessage(MESSAGES.BATTERY, { millivolts });
}
