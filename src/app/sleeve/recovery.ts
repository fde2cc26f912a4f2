/** The refined pass of a feed whose process was killed, from its capture. */
import { readCapture } from '../../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../base/errors.ts';
import { asItRan, replay } from '../../feed/replay.ts';
import { parseCalibration, type RefinedFeed } from '../../sensing/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';

/** @returns null when there is no capture or calibration to refine from */
export function refinedFromCapture(
  store: Pick<FeedStore, 'get' | 'capturePath'>,
  feedId: string,
): RefinedFeed | null {
  try {
    const path = store.capturePath(feedId);
    const feed = store.get(feedId);
    if (path === null || feed === null) return null;
    const calibration = parseCalibration(feed.calibration, `kept with feed ${feedId}`);
    const { result, refined } = replay([readCapture(path).bytes], asItRan(feed, calibration));
    return result.frames.accepted > 0 ? refined : null;
  } catch (error) {
    // The stored rows are kept; only the refined pass is missing.
    if (error instanceof PlainError) return null;
    throw error;
  }
}
