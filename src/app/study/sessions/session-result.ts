/** Computes one session from its raw counts. */
import { createHash } from 'node:crypto';
import { readCapture } from '../../../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../../base/errors.ts';
import type { KeptFeed } from '../../../feed/record/feed.ts';
import { asItRan, replay } from '../../../feed/replay.ts';
import { type FeedIndices, indicesOf } from '../../../research/indices/indices.ts';
import { type SetAside, setAside, tooFewGood, tooManyMissing } from '../../../research/study/eligible.ts';
import type { Protocol } from '../../../research/study/protocol.ts';
import { parseCalibration, type RefinedFeed } from '../../../sensing/index.ts';
import type { FeedStore } from '../../../store/feed-store.ts';

export type StudyStore = Pick<FeedStore, 'get' | 'capturePath'>;

/** Input of the computation; it may be sent to a thread. */
export interface SessionInput {
  feed: Pick<KeptFeed, 'id' | 'setup' | 'ran' | 'events' | 'calibration'>;
  capturePath: string;
  protocol: Protocol;
}

/** The result: plain data, identical for the same input. */
export interface SessionResult {
  refined: RefinedFeed;
  indices: FeedIndices;
  samplesPerSec: number;
  /** Start of the first latch, s by the clock of the sleeve. */
  latchSec: number;
  calibrationSha256: string;
  /** Hash of the bytes as received from the sleeve. */
  captureSha256: string;
}

export type Computed = SetAside | SessionResult;
export const isSetAside = (computed: Computed): computed is SetAside => typeof computed === 'string';

/** Sucks are marked uncertain if the sensor could not detect them reliably for more than this share of the feed. */
const UNCERTAIN_SHARE = 0.1;

/** @returns why the session is set aside; or the input of its computation, and the stored feed */
export function sessionInput(
  store: StudyStore,
  feedId: string,
  protocol: Protocol,
): SetAside | { input: SessionInput; kept: KeptFeed } {
  const kept = store.get(feedId);
  const capturePath = kept === null ? null : store.capturePath(feedId);
  const why = setAside(protocol, kept, capturePath !== null);
  if (why !== null) return why;
  const { id, setup, ran, events, calibration } = kept!;
  const feed = { id, setup, events, calibration, ...(ran && { ran }) };
  return { kept: kept!, input: { feed, capturePath: capturePath!, protocol } };
}

export function computeSession({ feed, capturePath, protocol }: SessionInput): Computed {
  try {
    const { bytes } = readCapture(capturePath);
    const calibration = parseCalibration(feed.calibration, `kept with feed ${feed.id}`);
    const { result, refined } = replay([bytes], asItRan(feed, calibration));
    if (result.frames.accepted === 0) return 'unreadable';
    if (tooManyMissing(protocol, result.frames)) return 'gaps';
    if (tooFewGood(protocol, refined.quality ?? [], refined.teatInMouth)) return 'too-few-good-rows';
    const uncertain = result.live.sucksUncertain.filter(Boolean).length;
    const first = refined.teatInMouth.indexOf(true);
    return {
      refined,
      indices: indicesOf({
        refined,
        portionMl: feed.setup.portionMl ?? protocol.plannedPortionMl,
        sucksUncertain: uncertain > UNCERTAIN_SHARE * result.live.sucksUncertain.length,
      }),
      samplesPerSec: (result.frames.accepted - 1) / result.durationSec,
      latchSec: refined.atSec[Math.max(0, first)] ?? 0,
      calibrationSha256: sha256Of(JSON.stringify(feed.calibration)),
      captureSha256: sha256Of(bytes),
    };
  } catch (error) {
    if (error instanceof PlainError) return 'unreadable';
    throw error;
  }
}

export const sha256Of = (data: string | Uint8Array): string =>
  createHash('sha256').update(data).digest('hex');
