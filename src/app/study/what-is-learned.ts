/**
 * One caregiver whose feeds get cues or none by chance: has she learned pacing? It is tested once, when there are enough feeds without cues; the
 * result is stored in a file of the study and only read afterwards.
 */
import { PlainError } from '../../base/errors.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import { SHIPPED_PROFILE } from '../../pacing/profile/shipped-profile.ts';
import { indicesOf, isGiven } from '../../research/indices/indices.ts';
import { setAside } from '../../research/study/eligible.ts';
import { type Learned, pacingLearned, WITHHELD_FEEDS } from '../../research/study/learned.ts';
import { shareAbove } from '../packing/poured-share.ts';
import { addLine, linesOf, readLines } from './log-file.ts';
import type { StudyStore } from './sessions/session-result.ts';
import type { StudyFolder } from './study-folder.ts';

export interface WhatIsLearned {
  participant: string;
  atMs: number;
  /** Minutes from the first suck to the last; this is tested. */
  length: Learned;
  /** Share of the milk that flowed faster than the band, and sucks from pause to pause: shown beside it, with their intervals; null if not known. */
  pouredShare: Learned | null;
  sucksPerBurst: Learned | null;
}

/** Added to a share before taking its logarithm, since it may be 0. */
const SHARE_AT_LEAST = 0.005;

const FILE = 'learned.jsonl';

/** @returns what was found, or null if it was not tested yet */
export const foundBefore = (study: StudyFolder, participant: string): WhatIsLearned | null =>
  readLines<WhatIsLearned>(study.files, FILE).find((one) => one.participant === participant) ?? null;

/**
 * @returns the result, new or stored; or the number of feeds without cues that are still missing
 * @throws PlainError study-asks-otherwise if the study does not ask this
 */
export function whatIsLearned(
  study: StudyFolder,
  store: StudyStore,
  participant: string,
  nowMs: number,
): WhatIsLearned | { missingFeeds: number } {
  if (!study.protocol.allocation?.asksWhatIsLearned) {
    throw new PlainError(
      'study-asks-otherwise',
      `Study ${study.protocol.code} does not ask whether pacing is learned.`,
      'Begin one whose protocol has "asksWhatIsLearned": true and feeds as the unit of its allocation.',
    );
  }
  const before = foundBefore(study, participant);
  if (before !== null) return before;
  const feeds = withoutCues(study, store, participant);
  const length = pacingLearned(
    feeds.map(({ durationSec }) => durationSec / 60),
    'rise',
  );
  if (length === null) return { missingFeeds: WITHHELD_FEEDS - feeds.length };
  const found: WhatIsLearned = {
    participant,
    atMs: nowMs,
    length,
    pouredShare: pacingLearned(feeds.map(pouredShare), 'fall'),
    sucksPerBurst: whereAllKnown(feeds.map(sucksPerBurst)),
  };
  addLine(study.files, FILE, found);
  study.audit('learned', participant);
  return found;
}

/** Ended feeds of the participant in which no cue was shown, in order of time. */
function withoutCues(study: StudyFolder, store: StudyStore, participant: string): KeptFeed[] {
  const logged = study.protocol.arms.find(({ cues }) => cues === 'logged')!.code;
  return study
    .sessions()
    .filter((one) => one.participant === participant && one.arm === logged)
    .flatMap(({ feed }) => store.get(feed) ?? [])
    .filter((feed) => setAside(study.protocol, feed, true) === null && feed.durationSec > 0)
    .filter(({ events }) => {
      const kinds = events.map(({ kind }) => kind);
      return kinds.includes('cues-withheld') && !kinds.includes('cues-shown');
    })
    .sort((a, b) => a.startedAtMs - b.startedAtMs);
}

const pouredShare = ({ rows, ran }: KeptFeed): number =>
  SHARE_AT_LEAST + shareAbove(rows, (ran?.profile ?? SHIPPED_PROFILE).buckets.pouring.rateMlPerMin.value);

function sucksPerBurst({ refined, setup }: KeptFeed): number | null {
  if (refined === null) return null;
  const index = indicesOf({ refined, portionMl: setup.portionMl, sucksUncertain: false }).sucksPerBurst;
  return isGiven(index) ? index.value : null;
}

const whereAllKnown = (values: readonly (number | null)[]): Learned | null =>
  values.includes(null) ? null : pacingLearned(values as number[], 'fall');

/** Deletes the result of a participant who withdraws. */
export function forgetLearned(study: StudyFolder, participant: string): void {
  const lines = readLines<WhatIsLearned>(study.files, FILE);
  const kept = lines.filter((one) => one.participant !== participant);
  if (kept.length === lines.length) return;
  study.files.replace(FILE, linesOf(kept));
}
