/** Computes the settings of the next feed from a baby's record and past feeds. Pure. */
import { sameName } from '../../base/babies.ts';
import { BARE_GUIDANCE, type Guidance, UNASKED_GUIDANCE } from '../../pacing/guidance.ts';
import type { PaceProfile } from '../../pacing/profile/profile.ts';
import { scaledProfile, USUAL_FEED_RANGE_ML } from '../../pacing/profile/scaled-profile.ts';
import { SHIPPED_PROFILE } from '../../pacing/profile/shipped-profile.ts';
import { ownFeedKnown } from '../../pacing/profile/weighed-feeds.ts';
import { type FeedNeed, quietLevel } from '../../pacing/rules/quiet-level.ts';
import {
  cuePermission,
  HELD_BACK,
  isUnderSixWeeks,
  type Screened,
  screened,
  type WhoDrinks,
} from '../../pacing/screening.ts';
import type { NoticeKind } from '../live/live-view.ts';
import type { Baby, PastFeed, RanWith } from '../record/baby.ts';
import type { FeedSetup } from '../record/feed.ts';
import { startedFrom } from './earlier-sucks.ts';
import { teatNotices } from './teat-notices.ts';

/** Settings of the next feed, and what the page says about them. */
export interface Guided {
  /** Null: the shipped profile and the sleeve contract's cues alone. */
  ran: RanWith | null;
  notices: readonly NoticeKind[];
  /** More than one baby has a record, so that the next feed's baby must be chosen. */
  severalBabies: boolean;
  /** The feed is a session of a study in an arm without cues; absent: it is not. */
  withholds?: true;
}

const DAY_MS = 24 * 3600_000;
/** The usual feed is the median of the latest ones; below `atLeast` feeds it is not known. Own choice, no source. */
const LEARNED_FROM = { atLeast: 3, atMost: 10 };
/** Shorter or smaller ones are attempts and are not counted. */
const A_FEED = { ml: 20, sec: 3 * 60 };

/** @returns whole days since birth; null when the birth date is not known */
export const ageDaysAt = (birthDate: string | null, atMs: number): number | null =>
  birthDate === null ? null : Math.max(0, Math.floor((atMs - Date.parse(`${birthDate}T00:00:00Z`)) / DAY_MS));

/** @param past newest first @returns mL; null until there are enough feeds */
export function learnedUsualMl(past: readonly PastFeed[]): number | null {
  const volumes = past
    .filter(({ intakeMl, durationSec }) => intakeMl >= A_FEED.ml && durationSec >= A_FEED.sec)
    .slice(0, LEARNED_FROM.atMost)
    .map(({ intakeMl }) => intakeMl)
    .sort((one, other) => one - other);
  if (volumes.length < LEARNED_FROM.atLeast) return null;
  const middle =
    (volumes[Math.floor((volumes.length - 1) / 2)]! + volumes[Math.ceil((volumes.length - 1) / 2)]!) / 2;
  return Math.min(USUAL_FEED_RANGE_ML.max, Math.max(USUAL_FEED_RANGE_ML.min, Math.round(middle)));
}

/** A feed's need is counted by the cues that the rules raised, shown or not. */
export const needOf = ({ cueCounts, durationSec }: PastFeed): FeedNeed => ({
  tiltDowns: cueCounts['tilt-down'] ?? 0,
  cues: Object.values(cueCounts).reduce((sum, count) => sum + count, 0),
  durationSec,
});

/** True when the answer to "under six weeks" depended on an age that has passed. */
function isToBeAskedAgain({ answers, birthDate, answeredAtMs, plan }: Baby, nowMs: number): boolean {
  const passed =
    isUnderSixWeeks(ageDaysAt(birthDate, answeredAtMs)) && !isUnderSixWeeks(ageDaysAt(birthDate, nowMs));
  return passed && answers['newborn-or-slow-gain'] && plan === null;
}

const whoIs = (
  { birthDate, answers, plan }: Baby,
  nowMs: number,
  typedBirthDate: string | null = null,
): WhoDrinks => ({
  agesDays: [ageDaysAt(birthDate, nowMs), ageDaysAt(typedBirthDate, nowMs)],
  answers,
  plan,
});

const isHeldBack = (baby: Baby, nowMs: number): boolean =>
  !['yes', 'plan'].includes(cuePermission(whoIs(baby, nowMs)));

const NOTICE_OF = {
  cuesOff: 'cues-off',
  notScreened: 'not-screened',
  withPlan: 'with-plan',
} as const satisfies Record<NonNullable<Screened['say']>, NoticeKind>;

/**
 * @param past  this baby's feeds, newest first
 * @param typedBirthDate  birth date in the answers before the feed; a baby is under six weeks if either date says so
 * @throws PlainError when a figure of the plan, the usual feed or the minutes lies out of its range
 */
export function guidedBaby(
  baby: Baby,
  past: readonly PastFeed[],
  caregiver: string | null,
  nowMs: number,
  typedBirthDate: string | null = null,
): { ran: RanWith; notices: NoticeKind[]; usualFeedMl: number | null } {
  const usualFeedMl = baby.usualFeedMl ?? learnedUsualMl(past);
  const scaled = profileOf(baby, usualFeedMl);
  const base: Guidance = {
    ...BARE_GUIDANCE,
    ...baby.choices,
    usualFeedMl,
    babyAgeDays: ageDaysAt(baby.birthDate, nowMs),
  };
  const { profile, guidance, say } = screened(
    { profile: scaled.profile, guidance: base },
    whoIs(baby, nowMs, typedBirthDate),
  );
  const counted = past.filter(
    (feed) =>
      !feed.isUnguided && feed.atMs >= (baby.quietSinceMs ?? 0) && sameName(feed.caregiver, caregiver),
  );
  // Where most cues are off, few cues do not show that the feeds went well.
  const areOff = say === 'cuesOff' || say === 'notScreened';
  const quiet = areOff ? 'usual' : quietLevel(counted.map(needOf));
  const notices: NoticeKind[] = [];
  if (isToBeAskedAgain(baby, nowMs)) notices.push('screen-again');
  if (say !== null) notices.push(NOTICE_OF[say]);
  if (quiet !== 'usual') notices.push(quiet);
  if (scaled.followsOwnFeed === false && say === null) notices.push('own-feed-faster');
  return { ran: { profile, guidance: { ...guidance, quiet } }, notices, usualFeedMl };
}

function profileOf(
  { pace, breastfed, breast, weighed = [] }: Baby,
  usualFeedMl: number | null,
): { profile: PaceProfile; followsOwnFeed: boolean | null } {
  const own = breastfed ? ownFeedKnown(weighed) : null;
  if (usualFeedMl === null && pace === 'usual' && own === null)
    return { profile: SHIPPED_PROFILE, followsOwnFeed: null };
  return scaledProfile({
    usualFeedMl,
    strictness: pace,
    ...(breastfed && breast && usualFeedMl !== null && { breast }),
    ...(own && { weighed: own }),
  });
}

/** For a baby of whom nothing is known: no "slower" and no "enough" cues. */
export const CAUTIOUS: Guided = {
  ran: { profile: SHIPPED_PROFILE, guidance: { ...UNASKED_GUIDANCE, cuesOff: HELD_BACK } },
  notices: ['cues-off'],
  severalBabies: false,
};

/** For a simulated feed without a baby's name. */
const NOBODYS: RanWith = { profile: SHIPPED_PROFILE, guidance: UNASKED_GUIDANCE };

/**
 * The settings of a feed with these answers. A baby without a record was never screened: the shipped pace, no "slower" and no "enough". A simulated
 * feed without a name and a birth date has all cues, unless a baby with a record may be meant that must not have them.
 * @param pastOf  feeds of a baby, newest first
 * @param simulated  true for a simulated baby
 * @param sucksBefore  what a suck gave in a baby's earlier feeds with these answers, g, newest first
 * @throws PlainError as `guidedBaby`
 */
export function guidedSetup(
  setup: FeedSetup,
  babies: readonly Baby[],
  pastOf: (babyId: string) => readonly PastFeed[],
  nowMs: number,
  simulated: boolean,
  sucksBefore: (babyId: string) => readonly number[] = () => [],
): Guided {
  const severalBabies = babies.length > 1;
  const { babyId, babyName, babyBirthDate, caregiver } = setup;
  const baby = babies.find(({ id }) => id === babyId);
  if (baby) {
    const past = pastOf(baby.id);
    const { ran, notices } = guidedBaby(baby, past, caregiver, nowMs, babyBirthDate);
    // Sessions of a study start alike, so that none depends on those before it.
    const earlier = setup.study ? [] : sucksBefore(baby.id);
    return {
      ran: startedFrom(ran, earlier),
      notices: [...notices, ...teatNotices(past, setup)],
      severalBabies,
    };
  }
  const notices: NoticeKind[] = severalBabies ? ['whose-feed'] : [];
  const isNobodys = !babyId && babyName === null && babyBirthDate === null;
  const mayBeHeldBack = babies.some((one) => isHeldBack(one, nowMs));
  if (simulated && isNobodys && !mayBeHeldBack) return { ran: NOBODYS, notices, severalBabies };
  const babyAgeDays = ageDaysAt(babyBirthDate, nowMs);
  const { profile, guidance, say } = screened(
    { profile: SHIPPED_PROFILE, guidance: { ...UNASKED_GUIDANCE, babyAgeDays } },
    { agesDays: [babyAgeDays], answers: {}, plan: null },
  );
  if (say === 'cuesOff') notices.push('cues-off');
  notices.push(simulated && isNobodys ? 'cues-off' : 'not-screened');
  return { ran: { profile, guidance }, notices, severalBabies };
}
