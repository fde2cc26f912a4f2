/** `ebbline replay`: runs a capture through the engine; output as JSON or as a few lines. Stores nothing. */
import { noSamplesIn, readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { replayText } from '../app/review/replay-text.ts';
import { calibrationFrom } from '../app/sleeve/calibration-file.ts';
import { replay } from '../feed/replay.ts';
import { say } from './print-out.ts';
import { withProgress } from './progress.ts';

export interface ReplayOptions {
  calibration: string;
  portionMl?: number;
  json?: boolean;
}

/** Small enough for visible progress, large enough to cost no time. */
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
  say(options.json ? JSON.stringify(result) : replayText(result));
}
