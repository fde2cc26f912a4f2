/** `ebbline replay`: a capture through the engine, as JSON or as a few lines for people. Writes nothing but its output. */
import { noSamplesIn, readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { calibrationFrom } from '../app/sleeve/calibration-file.ts';
import { volumeText } from '../base/units.ts';
import { type ReplayResult, replay } from '../feed/replay.ts';
import { becauseText } from '../pacing/index.ts';
import type { SensorFault } from '../sensing/index.ts';
import { say } from './print-out.ts';
import { withProgress } from './progress.ts';

export interface ReplayOptions {
  calibration: string;
  portionMl?: number;
  json?: boolean;
}

/** Fine enough that progress moves, coarse enough to cost nothing. */
const CHUNK_BYTES = 65_536;

function* inChunks(bytes: Uint8Array): Generator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += CHUNK_BYTES) yield bytes.subarray(at, at + CHUNK_BYTES);
}

/** @throws PlainError on a bad capture or calibration */
export async function replayCommand(path: string, options: ReplayOptions): Promise<void> {
  const calibration = calibrationFrom(options.calibration);
  const capture = readCapture(path);
  const { result } = withProgress('Replaying', (onProgress) =>
    replay(inChunks(capture.bytes), { calibration, portionMl: options.portionMl ?? null }, (bytes) =>
      onProgress(bytes, capture.bytes.length),
    ),
  );
  if (result.frames.accepted === 0) throw noSamplesIn(path, result.frames.rejected);
  for (const warning of capture.warnings) process.stderr.write(`ebbline: ${warning}\n`);
  say(options.json ? JSON.stringify(result) : inWords(result));
}

const clock = (sec: number): string =>
  `${Math.floor(sec / 60)}:${Math.floor(sec % 60)
    .toString()
    .padStart(2, '0')}`;

/** What did not fit in the sleeve, and what became of the feed. */
const FAULTS: Record<SensorFault, string> = {
  'gyroscope-stuck': 'The gyroscope says the same all the time. The feed goes on without it.',
  'gyroscope-saturated': 'The gyroscope is at its limit. The feed goes on without it.',
  'gyroscope-disagrees':
    'The gyroscope shows other turns than the tilt does: see which way its chip lies, and calibrate again. The feed goes on without it.',
  'accelerometer-place':
    'The accelerometer does not sit where the calibration says: see positionMm. The feed goes on without the gyroscope.',
  'late-cells':
    'The cells answer much later than usual: see the rate of their converters. That is taken into account.',
};

/** The result for people. */
export function inWords(result: ReplayResult): string {
  const { frames } = result;
  const lines = [
    `${volumeText(result.intakeMl)} taken in ${clock(result.durationSec)} min.`,
    `Spilled ${volumeText(result.spiltMl)}, poured in ${volumeText(result.addedMl)}.`,
    `${frames.accepted} samples, ${frames.rejected} broken, ${frames.missing} missing, ${frames.duplicates} repeated.`,
    ...result.events.flatMap((event) =>
      event.kind === 'sensor-fault' ? [`${clock(event.atSec).padStart(6)}  ${FAULTS[event.fault]}`] : [],
    ),
    ...result.cues.map(
      (cue) => `${clock(cue.atSec).padStart(6)}  ${cue.kind}  ${becauseText(cue.because, 'en')}`,
    ),
  ];
  return lines.join('\n');
}
