/**
 * What a suck gave in earlier feeds of the same baby and nipple, for the start of the next feed's estimate. Pure; nothing of it is stored
 * but what a feed was started with, since it can be computed from the kept feeds.
 */
import { MILK_DENSITY_GRAMS_PER_ML } from '../../base/units.ts';
import type { PaceProfile } from '../../pacing/profile/profile.ts';
import type { EarlierSucks, RefinedFeed } from '../../sensing/index.ts';
import { BEGINS_SEC, MILK_NOISE, steepnessAt } from '../../sensing/noise.ts';
import type { RanWith } from '../record/baby.ts';
import type { FeedRow } from '../record/feed.ts';

/** The first sucks decide the first cue; fewer than `fewest` say too little. Own choice. */
const SUCKS = { first: 60, fewest: 20 };
/** So many of the latest feeds count. Own choice. */
export const EARLIER_FEEDS = 3;
/**
 * Standard deviation of the natural logarithm of the milk per suck. Among babies: 0.17 ± 0.08 mL and 0.30 ± 0.11 mL (Qureshi et al. 2002, Dev Med Child Neurol
 * 44:34-39). From feed to feed of one baby: own assumption, wide, since the nipple may have been changed, clogged or cut without a word; nipples of
 * one kind alone differ by 5 to 42 % (Pados et al. 2015, Am J Speech Lang Pathol 24:671-679, abstract).
 */
const SPREAD = { amongBabies: 0.4, betweenFeeds: 0.5 };

/** Feeds longer ago do not count, since babies grow. Own choice. */
export const EARLIER_DAYS = 14;

export type KeptSucks = Pick<RefinedFeed, 'suckAtSec' | 'atSec' | 'intakeMl'>;

/**
 * Mean milk of a feed's first sucks, as from a level bottle, g; null for too few sucks.
 * @param rows of the live estimate, for how the bottle was held at the beginning
 */
export function levelSuckGrams(
  { suckAtSec, atSec, intakeMl }: KeptSucks,
  rows: readonly Pick<FeedRow, 'atSec' | 'teatInMouth' | 'tiltDeg'>[],
): number | null {
  const sucks = Math.min(SUCKS.first, suckAtSec.length - 1);
  if (sucks < SUCKS.fewest) return null;
  const intakeAt = (sec: number): number =>
    intakeMl[
      Math.max(
        0,
        atSec.findLastIndex((at) => at <= sec),
      )
    ] ?? 0;
  const takenMl = intakeAt(suckAtSec[sucks]!) - intakeAt(suckAtSec[0]!);
  if (takenMl <= 0) return null;
  const { perSuckGrams, perSuckSteepGrams } = MILK_NOISE;
  const more = 1 + beganSteeply(rows) * (perSuckSteepGrams / perSuckGrams - 1);
  return (takenMl * MILK_DENSITY_GRAMS_PER_ML) / sucks / more;
}

/** The greatest steepness in the first seconds with the teat in, 0 to 1. */
function beganSteeply(rows: readonly Pick<FeedRow, 'atSec' | 'teatInMouth' | 'tiltDeg'>[]): number {
  let drunkSec = 0;
  let most = 0;
  for (let i = 0; i < rows.length && drunkSec < BEGINS_SEC; i++) {
    const { atSec, teatInMouth, tiltDeg } = rows[i]!;
    if (!teatInMouth) continue;
    drunkSec += i === 0 ? 0 : atSec - rows[i - 1]!.atSec;
    most = Math.max(most, steepnessAt(tiltDeg));
  }
  return most;
}

/**
 * What the next feed starts from: the mean of the earlier ones drawn towards what is usual (normal-normal shrinkage of the logarithm), with the
 * spread of a single feed about it.
 * @param sucksGrams by `levelSuckGrams`, of earlier feeds, newest first
 * @returns null when there is none
 */
export function earlierSucks(sucksGrams: readonly number[]): EarlierSucks | null {
  const logs = sucksGrams.slice(0, EARLIER_FEEDS).map(Math.log);
  if (logs.length === 0) return null;
  const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  const among = SPREAD.amongBabies ** 2;
  const between = SPREAD.betweenFeeds ** 2;
  const knownShare = among / (among + between / logs.length);
  const { perSuckGrams, perSuckStartSdGrams } = MILK_NOISE;
  const levelGrams = Math.exp(knownShare * mean + (1 - knownShare) * Math.log(perSuckGrams));
  const sdShare = Math.sqrt(between + (1 - knownShare) * among);
  // After slow feeds a faster nipple must be found as soon as ever.
  return { levelGrams, sdGrams: Math.max(perSuckStartSdGrams, sdShare * levelGrams), knownShare };
}

/** Start over the usual one from which on it counts as a fast nipple's. Own choice. */
const FAST_RATIO = 1.25;

/**
 * The first "too fast" comes below the depth while nobody knows what a suck gives, because the usual start is too low for a fast nipple (margin.ts). Where earlier
 * feeds say that the nipple is fast, the start is no longer too low, and the cue comes less soon by the share that is known.
 */
export function profileKnowing(profile: PaceProfile, { levelGrams, knownShare }: EarlierSucks): PaceProfile {
  const { tiltDown } = profile;
  const over = Math.log(levelGrams / MILK_NOISE.perSuckGrams) / Math.log(FAST_RATIO);
  const known = knownShare * Math.min(1, Math.max(0, over));
  const { soonerAtMostShare: sooner } = tiltDown;
  return {
    ...profile,
    tiltDown: {
      ...tiltDown,
      soonerAtMostShare: { ...sooner, value: sooner.value * (1 - known) },
    },
  };
}

/** The settings of a feed, started from earlier ones. @param sucksGrams as `earlierSucks`; none: the settings stay as they are */
export function startedFrom(ran: RanWith, sucksGrams: readonly number[]): RanWith {
  const earlier = earlierSucks(sucksGrams);
  return earlier ? { ...ran, profile: profileKnowing(ran.profile, earlier), earlierSucks: earlier } : ran;
}
