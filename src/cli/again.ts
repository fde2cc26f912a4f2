/** `ebbline again`: a kept feed's capture through the engine with what the feed ran with, and whether its cues come out the same. */
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../base/errors.ts';
import { SOFTWARE_VERSION } from '../base/version.ts';
import { asItRan, type ReplayResult, replay } from '../feed/replay.ts';
import type { KeptCue } from '../pacing/cues/cue.ts';
import { becauseText } from '../pacing/index.ts';
import { parseCalibration } from '../sensing/index.ts';
import { dataFolder } from '../store/data-folder.ts';
import { type FeedStore, openStore } from '../store/feed-store.ts';
import { inWords } from './replay.ts';

export interface AgainOptions {
  simulated?: boolean;
  json?: boolean;
}

export interface Again {
  result: ReplayResult;
  /** Whether the very cues came that were kept: kind, time and reason. */
  sameCues: boolean;
  keptCues: KeptCue[];
  /** Name of the profile it ran with, and the version that recorded it. */
  profile: string;
  softwareVersion: string;
}

/** @throws PlainError feed-unknown, feed-without-capture, and what is wrong with the capture */
export function againFrom(store: Pick<FeedStore, 'get' | 'capturePath'>, feedId: string): Again {
  const feed = store.get(feedId);
  if (!feed) {
    throw new PlainError(
      'feed-unknown',
      `There is no kept feed ${feedId}.`,
      'List them with "ebbline feeds"; those of the simulated sleeve need --simulated.',
    );
  }
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

/** A feed from before reasons were data has their sentences. */
const inEnglish = ({ atSec, kind, because }: KeptCue) => [atSec, kind, becauseText(because, 'en')];

export async function againCommand(feedId: string, options: AgainOptions): Promise<void> {
  const store = openStore(dataFolder({ simulated: options.simulated ?? false }));
  try {
    const again = againFrom(store, feedId);
    process.stdout.write(options.json ? `${JSON.stringify(again)}\n` : `${told(again)}\n`);
  } finally {
    store.close();
  }
}

function told({ result, sameCues, keptCues, profile, softwareVersion }: Again): string {
  const ran = `Recorded by version ${softwareVersion}, pace profile "${profile}".`;
  const same = sameCues
    ? `The same ${keptCues.length} cues as then.`
    : `Not the same cues: ${keptCues.length} then, ${result.cues.length} now, by version ${SOFTWARE_VERSION}.`;
  return [ran, same, inWords(result)].join('\n');
}
