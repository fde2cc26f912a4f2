/** The tables about feeds in an export; FORMAT.md beside this file says what each column means. */
import type { KeptFeed } from '../../feed/record/feed.ts';
import { becauseText } from '../../pacing/cues/words-because.ts';
import type { PaceProfile } from '../../pacing/profile/profile.ts';
import { type Table, time, yes } from './table.ts';

/** One line a feed: corrected values, beside the times by the host's clock. */
const FEEDS: Table<KeptFeed> = {
  file: 'feeds.csv',
  columns: [
    'feed',
    'started_at',
    'ended_at',
    'duration_s',
    'baby',
    'birth_date',
    'bottle',
    'nipple',
    'nipple_flow',
    'milk_kind',
    'portion_ml',
    'caregiver',
    'left_bottle_ml',
    'spilt_ml',
    'added_ml',
    'reading_offered_ml',
    'reading_left_ml',
    'cues',
    'cues_shown',
    'pace',
    'pace_lasting_ml_per_min',
    'pace_lasting_ml',
    'pace_pouring_ml_per_min',
    'pace_pouring_ml',
    'note',
    'state',
    'end_reason',
    'simulated',
    'sleeve',
    'software_version',
    'recorded_started_at',
    'recorded_ended_at',
  ],
  lines: (feed) => {
    const now = feed.corrected ?? { ...feed, reading: null, note: null };
    return [
      [
        feed.id,
        time(now.startedAtMs),
        time(now.endedAtMs),
        feed.durationSec,
        now.setup.babyName,
        now.setup.babyBirthDate,
        now.setup.bottleName,
        now.setup.teatName ?? null,
        now.setup.teatFlow ?? null,
        now.setup.milkKind,
        now.setup.portionMl,
        now.setup.caregiver,
        feed.intakeMl,
        feed.spiltMl,
        feed.addedMl,
        now.reading?.offeredMl ?? null,
        now.reading?.leftMl ?? null,
        feed.cues.length,
        feed.told ? new Set(feed.told.map(({ sinceSec }) => sinceSec)).size : null,
        ...paceCells(feed),
        now.note,
        feed.state,
        feed.endReason,
        yes(feed.simulated),
        feed.sleeveId,
        feed.softwareVersion ?? null,
        time(feed.startedAtMs),
        time(feed.endedAtMs),
      ],
    ];
  },
};

/** The pace that a feed ran with; without one of its own it ran with the shipped profile. */
function paceCells({ ran }: KeptFeed): (string | number | null)[] {
  const { name, buckets }: Partial<PaceProfile> = ran?.profile ?? {};
  return [
    name ?? 'shipped',
    ...[buckets?.lasting, buckets?.pouring].flatMap((one) => [
      one?.rateMlPerMin?.value ?? null,
      one?.depthMl?.value ?? null,
    ]),
  ];
}

const CUES: Table<KeptFeed> = {
  file: 'cues.csv',
  columns: ['feed', 'at_s', 'cue', 'because'],
  lines: ({ id, cues }) =>
    cues.map(({ atSec, kind, because }) => [id, atSec, kind, becauseText(because, 'en')]),
};

const TOLD: Table<KeptFeed> = {
  file: 'told-cues.csv',
  columns: ['feed', 'since_s', 'at_s', 'shown', 'output'],
  lines: ({ id, told = [] }) =>
    told.map(({ sinceSec, atSec, shown, output }) => [id, sinceSec, atSec, shown, output]),
};

const EVENTS: Table<KeptFeed> = {
  file: 'events.csv',
  columns: ['feed', 'at_s', 'event', 'volume_ml', 'count'],
  lines: ({ id, events }) =>
    events.map((event) => [
      id,
      event.atSec,
      event.kind,
      'volumeMl' in event ? event.volumeMl : null,
      'count' in event ? event.count : null,
    ]),
};

const ROWS: Table<KeptFeed> = {
  file: 'rows.csv',
  columns: ['feed', 'at_s', 'milk_ml', 'flow_ml_per_min', 'left_bottle_ml', 'nipple_in_mouth', 'tilt_deg'],
  lines: ({ id, rows }) =>
    rows.map((row) => [
      id,
      row.atSec,
      row.milkMl,
      row.flowMlPerMin,
      row.intakeMl,
      yes(row.teatInMouth),
      row.tiltDeg,
    ]),
};

const REFINED: Table<KeptFeed> = {
  file: 'refined.csv',
  columns: [
    'feed',
    'at_s',
    'milk_ml',
    'milk_sd_ml',
    'flow_ml_per_min',
    'flow_sd_ml_per_min',
    'left_bottle_ml',
    'nipple_in_mouth',
  ],
  lines: ({ id, refined }) =>
    refined
      ? refined.atSec.map((atSec, i) => [
          id,
          atSec,
          refined.milkMl[i]!,
          refined.milkSdMl[i]!,
          refined.flowMlPerMin[i]!,
          refined.flowSdMlPerMin?.[i] ?? null,
          refined.intakeMl[i]!,
          yes(refined.teatInMouth[i]!),
        ])
      : [],
};

const CORRECTIONS: Table<KeptFeed> = {
  file: 'corrections.csv',
  columns: ['feed', 'made_at', 'by', 'kind', 'correction_json'],
  lines: ({ id, corrections = [] }) =>
    corrections.map(({ madeAtMs, by, kind, ...rest }) => [
      id,
      time(madeAtMs),
      by,
      kind,
      JSON.stringify(rest),
    ]),
};

export const FEED_TABLES: readonly Table<KeptFeed>[] = [
  FEEDS,
  CUES,
  TOLD,
  EVENTS,
  ROWS,
  REFINED,
  CORRECTIONS,
];
