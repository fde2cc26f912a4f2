/** Whether a session meets the protocol. A session that does not is set aside and listed with its reason. Pure. */
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

/** @param feed null if it is no longer stored @param hasCapture whether the raw counts are there @returns null where it meets the protocol */
export function setAside(protocol: Protocol, feed: KeptFeed | null, hasCapture: boolean): SetAside | null {
  if (feed === null) return 'feed-missing';
  if (feed.state !== 'ended') return 'not-ended';
  if (!hasCapture) return 'no-capture';
  const calibration = feed.calibration as { sleeveNumber?: unknown; calibratedAt?: unknown } | null;
  if (typeof calibration !== 'object' || calibration === null) return 'no-calibration';
  if (calibration.sleeveNumber !== undefined && String(calibration.sleeveNumber) !== feed.sleeveId)
    return 'calibration-of-another-sleeve';
  const madeAtMs = Date.parse(String(calibration.calibratedAt ?? ''));
  // A calibration without a date cannot be shown to be recent.
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

/** @returns whether more of the samples were lost than the protocol allows */
export const tooManyMissing = (
  protocol: Protocol,
  { accepted, missing }: { accepted: number; missing: number },
): boolean => missing > protocol.missingSamplesMost * (accepted + missing);
