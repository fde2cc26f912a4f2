/** Whether a session meets the protocol. What does not is set aside with its reason, and listed. Pure. */
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { Protocol } from './protocol.ts';

export type SetAside =
  | 'feed-missing'
  | 'not-ended'
  | 'no-capture'
  | 'no-calibration'
  | 'calibration-undated'
  | 'calibration-too-old'
  | 'calibration-of-another-sleeve'
  | 'unreadable'
  | 'gaps'
  | 'too-few-good-rows'
  | 'other-milk'
  | 'duplicate';

const DAY_MS = 86_400_000;

/** @param feed null where it is not kept any more @param hasCapture whether the raw counts are there @returns null where it meets the protocol */
export function setAside(protocol: Protocol, feed: KeptFeed | null, hasCapture: boolean): SetAside | null {
  if (feed === null) return 'feed-missing';
  if (feed.state !== 'ended') return 'not-ended';
  if (!hasCapture) return 'no-capture';
  const calibration = feed.calibration as { sleeveNumber?: unknown; calibratedAt?: unknown } | null;
  if (typeof calibration !== 'object' || calibration === null) return 'no-calibration';
  if (calibration.sleeveNumber !== undefined && String(calibration.sleeveNumber) !== feed.sleeveId)
    return 'calibration-of-another-sleeve';
  const madeAtMs = Date.parse(String(calibration.calibratedAt ?? ''));
  // What nobody dated cannot be shown to be fresh.
  if (!Number.isFinite(madeAtMs)) return 'calibration-undated';
  if (feed.startedAtMs - madeAtMs > protocol.calibrationMostDays * DAY_MS) return 'calibration-too-old';
  if (protocol.milkKind !== null && feed.setup.milkKind !== null && feed.setup.milkKind !== protocol.milkKind)
    return 'other-milk';
  return null;
}

/** @returns whether too few rows with the nipple in the mouth are good */
export function tooFewGood(
  protocol: Protocol,
  quality: readonly string[],
  teatIn: readonly boolean[],
): boolean {
  const rows = quality.filter((_, i) => teatIn[i]);
  return (
    rows.length === 0 || rows.filter((one) => one === 'good').length < protocol.goodRowsLeast * rows.length
  );
}

/** @returns whether more of the samples were lost on their way than the protocol allows */
export const tooManyMissing = (
  protocol: Protocol,
  { accepted, missing }: { accepted: number; missing: number },
): boolean => missing > protocol.missingSamplesMost * (accepted + missing);
