/** One session computed anew from its raw counts. */
import { createHash } from 'node:crypto';
import { readCapture } from '../../../firmware-bridge/links/capture-file.ts';
import { createSampleReader, type TimedSample } from '../../../firmware-bridge/wire/index.ts';
import { PlainError } from '../../base/errors.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import { asItRan, replay } from '../../feed/replay.ts';
import { type FeedIndices, indicesOf } from '../../research/indices/indices.ts';
import { type SetAside, setAside, tooFewGood } from '../../research/study/eligible.ts';
import type { Protocol } from '../../research/study/protocol.ts';
import { parseCalibration, type RefinedFeed } from '../../sensing/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';

export interface ComputedSession {
  feed: KeptFeed;
  refined: RefinedFeed;
  indices: FeedIndices;
  /** The counts as they came, read anew at each call. */
  raw: () => TimedSample[];
  samplesPerSec: number;
  /** Start of the first latch, s by the clock of the sleeve. */
  latchSec: number;
  calibrationSha256: string;
}

/** Sucks count as uncertain once the sensor could not tell them for more than this share of the feed. */
const UNCERTAIN_SHARE = 0.1;

/** @returns why it is set aside, or what was computed */
export function computeSession(
  store: Pick<FeedStore, 'get' | 'capturePath'>,
  feedId: string,
  protocol: Protocol,
): SetAside | ComputedSession {
  const feed = store.get(feedId);
  const path = feed === null ? null : store.capturePath(feedId);
  const why = setAside(protocol, feed, path !== null);
  if (why !== null) return why;
  try {
    const computed = computedFrom(feed!, readCapture(path!).bytes, protocol);
    return tooFewGood(protocol, computed.refined.quality ?? [], computed.refined.teatInMouth)
      ? 'too-few-good-rows'
      : computed;
  } catch (error) {
    if (error instanceof PlainError) return 'no-calibration';
    throw error;
  }
}

function computedFrom(feed: KeptFeed, bytes: Uint8Array, protocol: Protocol): ComputedSession {
  const calibration = parseCalibration(feed.calibration, `kept with feed ${feed.id}`);
  const { result, refined } = replay([bytes], asItRan(feed, calibration));
  const uncertain = result.live.sucksUncertain.filter(Boolean).length;
  const portionMl = feed.setup.portionMl ?? protocol.plannedPortionMl;
  const first = refined.teatInMouth.indexOf(true);
  return {
    feed,
    refined,
    indices: indicesOf({
      refined,
      portionMl,
      sucksUncertain: uncertain > UNCERTAIN_SHARE * result.live.sucksUncertain.length,
    }),
    raw: () => rawSamples(bytes),
    samplesPerSec: (result.frames.accepted - 1) / result.durationSec,
    latchSec: refined.atSec[Math.max(0, first)] ?? 0,
    calibrationSha256: createHash('sha256').update(JSON.stringify(feed.calibration)).digest('hex'),
  };
}

/** The counts as they came, on the sleeve's clock. */
function rawSamples(bytes: Uint8Array): TimedSample[] {
  const samples: TimedSample[] = [];
  const reader = createSampleReader((sample) => samples.push(sample));
  reader.take(bytes);
  reader.end();
  return samples;
}
