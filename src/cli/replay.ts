/** `ebbline replay`: runs a capture through the engine; output as JSON or as a few lines. Stores nothing. */
import { replayFile } from '../app/review/replay-file.ts';
import { replayText } from '../app/review/replay-text.ts';
import type { OtherGiven } from './other-commands.ts';
import { say, warn } from './print-out.ts';
import { withProgress } from './progress.ts';

/** @throws PlainError on a bad capture or calibration */
export async function replayCapture({ capture, ...options }: OtherGiven<'replay'>): Promise<void> {
  const { result, warnings } = await withProgress('Replaying', (onProgress) =>
    replayFile(capture, options, onProgress),
  );
  for (const warning of warnings) warn(warning);
  say(options.json ? JSON.stringify(result) : replayText(result));
}
