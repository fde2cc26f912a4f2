/** The recorder of a sleeve that a worker guides: a new one, or one in the midst of the feed that the last guide left. */
import type { FeedStorage } from '../../feed/record/feed-storage.ts';
import {
  createRecorder,
  type OpenFeed,
  type Recorder,
  type RecorderOptions,
} from '../../feed/recording/recorder.ts';
import { resumeRecorder } from '../../feed/recording/snapshot.ts';
import { newFeedId } from '../../store/database/feed-id.ts';
import type { Checkpoint } from './checkpoint.ts';
import type { SleeveBinding } from './storing/store-ops.ts';

/** Most bytes in memory for one sleeve while the store fails: 35 min with a gyroscope. */
const MOST_HELD_BYTES = 8 * 1024 * 1024;

export interface GuidedRecorderOptions {
  storage: FeedStorage;
  sleeveNumber: number;
  /** What is bound to the sleeve now. */
  binding: () => SleeveBinding;
  /** @param bytes  number of bytes the feed began with */
  onOpened: (feed: OpenFeed, bytes: number) => void;
}

export function guidedRecorder(
  checkpoint: Checkpoint | null,
  { storage, sleeveNumber, binding, onOpened }: GuidedRecorderOptions,
): Recorder {
  const { calibration, simulated } = binding();
  const options: RecorderOptions = {
    ...{ calibration, storage, simulated },
    newFeedId: (startedAtMs) => newFeedId(startedAtMs, Math.random),
    sleeveId: String(sleeveNumber),
    refinesLater: true,
    mostHeldBytes: MOST_HELD_BYTES,
    guide: () => binding().guided,
    onOpened: ({ feed }, bytes) => onOpened(feed!, bytes),
  };
  if (!checkpoint?.feed) return createRecorder(options);
  const { start, latest, noted, told } = checkpoint.feed;
  return resumeRecorder(options, (latest ?? start).picture, noted, told);
}
