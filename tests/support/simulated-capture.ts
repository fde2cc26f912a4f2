/** A simulated feed as a capture file's bytes, made as fast as possible. */
import { encodeMessage } from '../../firmware-bridge/wire/codec.ts';
import { MESSAGES } from '../../firmware-bridge/wire/messages.ts';
import type { SleeveCalibration } from '../../src/simulation/calibration.ts';
import type { SeenCue } from '../../src/simulation/caregiver.ts';
import { createSimulatedFeed, type FeedOptions } from '../../src/simulation/simulated-feed.ts';
import type { FeedTruth, TruthNow } from '../../src/simulation/truth.ts';

export interface CaptureOptions extends FeedOptions {
  /** Stops then even if the feed continues; default 3600 s. */
  longestSec?: number;
  /** The cue shown to the caregiver, called 20 times a second; default none. */
  cue?: (now: TruthNow) => SeenCue | null;
}

export interface SimulatedCapture {
  bytes: Uint8Array;
  calibration: SleeveCalibration;
  exactCalibration: SleeveCalibration;
  truth: FeedTruth;
}

const FRAME_BYTES = 31;

export function simulateCapture(options: CaptureOptions): SimulatedCapture {
  const feed = createSimulatedFeed(options);
  const steps = Math.ceil((options.longestSec ?? 3600) * 80);
  let bytes = new Uint8Array(FRAME_BYTES * 4096);
  let length = 0;
  const write = (frame: Uint8Array): void => {
    if (length + frame.length > bytes.length) {
      const larger = new Uint8Array(bytes.length * 2);
      larger.set(bytes);
      bytes = larger;
    }
    bytes.set(frame, length);
    length += frame.length;
  };
  for (let i = 0; i < steps && !feed.done; i++) {
    const { sample, motion, truth } = feed.step();
    if (options.cue && i % 4 === 3) feed.perceive(options.cue(truth));
    if (sample) write(encodeMessage(MESSAGES.SAMPLE, sample));
    if (motion) write(encodeMessage(MESSAGES.MOTION, motion));
  }
  return {
    bytes: bytes.slice(0, length),
    calibration: feed.calibration,
    exactCalibration: feed.exactCalibration,
    truth: feed.truth,
  };
}
