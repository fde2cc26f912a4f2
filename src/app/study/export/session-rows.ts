/** The rows of one session in each table of an export. */
import type { KeptFeed } from '../../../feed/record/feed.ts';
import type { TableDefinition } from '../../../research/export/dictionary.ts';
import { INDEX_KEYS, INDICES } from '../../../research/indices/definitions.ts';
import { isGiven } from '../../../research/indices/indices.ts';
import type { SetAside } from '../../../research/study/eligible.ts';
import type { SessionResult } from '../sessions/session-result.ts';
import type { Session } from '../study-records.ts';
import type { Value } from './parquet-table.ts';
import { sinceLatch } from './raw-table.ts';

export type RowTable = Exclude<TableDefinition['name'], 'raw'>;
export type Rows = Record<RowTable, Value[][]>;

const WEEK_MS = 7 * 86_400_000;

const empty = (): Rows => ({ sessions: [], rows: [], sucks: [], cues: [], told: [], indices: [] });

export function rowsSetAside({ session, participant, arm }: Session, why: SetAside): Rows {
  return { ...empty(), sessions: [[session, participant, arm, ...Array<Value>(9).fill(null), why]] };
}

/** @param shiftWeeks shift of the participant's dates */
export function rowsOf(
  { session, participant, arm }: Session,
  feed: KeptFeed,
  computed: SessionResult,
  shiftWeeks: number,
  softwareVersion: string,
): Rows {
  const { refined, latchSec } = computed;
  const since = (atSec: number): number => sinceLatch(atSec, latchSec);
  const day = new Date(feed.startedAtMs + shiftWeeks * WEEK_MS).toISOString().slice(0, 10);
  return {
    sessions: [
      [
        session,
        participant,
        arm,
        day,
        feed.setup.portionMl,
        feed.durationSec,
        refined.totals.intakeMl,
        refined.totals.spiltMl,
        computed.calibrationSha256,
        feed.softwareVersion ?? null,
        softwareVersion,
        feed.told !== undefined,
        null,
      ],
    ],
    rows: refined.atSec.map((atSec, i) => [
      session,
      since(atSec),
      refined.milkMl[i]!,
      refined.milkSdMl[i]!,
      refined.intakeMl[i]!,
      refined.flowMlPerMin[i]!,
      refined.flowSdMlPerMin?.[i] ?? null,
      refined.teatInMouth[i]!,
      refined.quality?.[i] ?? null,
    ]),
    sucks: refined.suckAtSec.map((atSec) => [session, since(atSec)]),
    cues: feed.cues.map(({ atSec, kind }) => [session, since(atSec), kind]),
    told: (feed.told ?? []).map(({ atSec, shown, output }) => [session, since(atSec), shown, output]),
    indices: INDEX_KEYS.map((key) => {
      const index = computed.indices[key];
      const { unit } = INDICES[key];
      return isGiven(index)
        ? [session, key, index.value, index.low, index.high, unit, null]
        : [session, key, null, null, null, unit, index.missing];
    }),
  };
}

const TOLD_KNOWN = 11;

/** Removes which cues were shown, since that reveals the arm. */
export const withoutTold = (rows: Rows): Rows => ({
  ...rows,
  told: [],
  sessions: rows.sessions.map((row) => row.with(TOLD_KNOWN, null)),
});
