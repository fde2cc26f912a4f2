/** Replays a stored feed's capture with the settings it ran with, and compares the cues. */
import { readCapture } from '../../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../base/errors.ts';
import { asItRan, type ReplayResult, replay } from '../../feed/replay.ts';
import type { KeptCue } from '../../pacing/cues/cue.ts';
import { becauseText } from '../../pacing/index.ts';
import { parseCalibration } from '../../sensing/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { keptFeed } from './kept-feed.ts';

export interface Again {
  result: ReplayResult;
  /** Whether the same cues came: kind, time and reason. */
  sameCues: boolean;
  keptCues: KeptCue[];
  /** Name of the profile it ran with, and the version that recorded it. */
  profile: string;
  softwareVersion: string;
}

/** @throws PlainError feed-unknown, feed-without-capture, and what is wrong with the capture */
export function againFrom(store: Pick<FeedStore, 'get' | 'capturePath'>, feedId: string): Again {
  const feed = keptFeed(store, feedId);
  const path = store.capturePath(feedId);
  if (path === null) {
    throw new PlainError(
      'feed-without-capture',
      `The capture of feed ${feedId} is not to be had.`,
      'If it was put away on another disk, connect that disk.',
    );
  }
  const calibration = parseCalibration(feed.calibration, `kept with feed ${feedId}`);
  const { result } = replay([readCapture(path).bytes], asItRan(feed, calibration));
  return {
    result,
    sameCues: JSON.stringify(result.cues.map(inEnglish)) === JSON.stringify(feed.cues.map(inEnglish)),
    keptCues: feed.cues,
    profile: feed.ran?.profile.name ?? 'shipped',
    softwareVersion: feed.softwareVersion ?? 'unknown',
  };
}

/** Old feeds have their reasons as English sentences. */
const inEnglish = ({ atSec, kind, because }: KeptCue) => [atSec, kind, becauseText(because, 'en')];
