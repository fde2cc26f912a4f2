import type { FeedRecords } from '../database/feed-records.ts';
import { sidecarOf } from './capture-writer.ts';
import type { Captures } from './captures.ts';

/**
 * Finishes an ended feed: writes its sidecar, packs its rows, replaces the raw capture by the packed one. After an interruption at any step
 * the next start continues.
 * @param pack  gives the packed capture's name; null: the raw one stays
 */
export function settleFeed(
  records: FeedRecords,
  captures: Captures,
  feedId: string,
  pack: () => string | null,
): void {
  const { feed, calibration, softwareVersion } = records.provenance(feedId)!;
  captures.writeSidecar(feedId, sidecarOf(feed, calibration, softwareVersion));
  records.packRows(feedId);
  const packed = pack();
  if (packed === null) return;
  records.setCaptureFile(feedId, packed);
  captures.removeRaw(feedId);
}
