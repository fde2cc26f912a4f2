/** A feed's rows as they lie in the database, and what they mean. */
import { ownJson } from '../../base/typed.ts';
import type { FeedEndReason, FeedRow, FeedSetup, FeedState, FeedSummary } from '../../feed/record/feed.ts';

export interface SummaryRecord {
  id: string;
  state: FeedState;
  end_reason: FeedEndReason | null;
  simulated: number;
  started_at_ms: number;
  sample_zero_at_ms: number;
  ended_at_ms: number | null;
  sleeve_id: string;
  setup_json: string;
  capture_file: string;
  intake_ml: number;
  spilt_ml: number;
  added_ml: number;
  duration_sec: number;
}

export type FeedRecord = SummaryRecord & {
  no: number;
  calibration_json: string;
  software_version: string;
  ran_json: string | null;
  is_told_kept: number;
};

export type RowRecord = Omit<FeedRow, 'teatInMouth'> & { teatInMouth: number };

export const rowsFrom = (records: readonly RowRecord[]): FeedRow[] =>
  records.map((row) => ({
    ...row,
    teatInMouth: row.teatInMouth === 1,
  }));

export function summaryOf(record: SummaryRecord): FeedSummary {
  return {
    id: record.id,
    startedAtMs: record.started_at_ms,
    sampleZeroAtMs: record.sample_zero_at_ms,
    // In old feeds, or after a clock was set back, the end may be before the start.
    endedAtMs: record.ended_at_ms === null ? null : Math.max(record.started_at_ms, record.ended_at_ms),
    state: record.state,
    endReason: record.end_reason,
    simulated: record.simulated === 1,
    sleeveId: record.sleeve_id,
    setup: ownJson<FeedSetup>(record.setup_json),
    intakeMl: record.intake_ml,
    spiltMl: record.spilt_ml,
    addedMl: record.added_ml,
    durationSec: record.duration_sec,
    captureFile: record.capture_file || null,
  };
}
