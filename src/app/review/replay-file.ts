/** A capture file through the engine. */
import { noSamplesIn, readCapture } from '../../../firmware-bridge/links/capture-file.ts';
import { type ReplayResult, replay } from '../../feed/replay.ts';
import { calibrationFrom } from '../sleeve/calibration-file.ts';

/** Small enough for visible progress, large enough to cost no time. */
const CHUNK_BYTES = 65_536;

function* inChunks(bytes: Uint8Array): Generator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += CHUNK_BYTES) yield bytes.subarray(at, at + CHUNK_BYTES);
}

/** @param asked `calibration`: its file @throws PlainError on a bad capture or calibration */
export function replayFile(
  path: string,
  asked: { calibration: string; portionMl?: number },
  onProgress: (done: number, of: number) => void,
): { result: ReplayResult; warnings: readonly string[] } {
  const calibration = calibrationFrom(asked.calibration);
  const { bytes, warnings } = readCapture(path);
  const { result } = replay(inChunks(bytes), { calibration, portionMl: asked.portionMl ?? null }, (done) =>
    onProgress(done, bytes.length),
  );
  if (result.frames.accepted === 0) throw noSamplesIn(path, result.frames.rejected);
  return { result, warnings };
}
