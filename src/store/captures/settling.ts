import type { FeedRecords } from '../database/feed-records.ts';
import { sidecarOf } from './capture-writer.ts';
import type { Captures } from './captures.ts';

/**
 * Puts a feed that is over in order: its sidecar, its rows packed, its capture packed in the raw one's place. Each step may be the last one
 * before a cut; the next start takes it up from there.
 * @param pack  gives the packed capture's name; null when there is none, then the raw one stays
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
