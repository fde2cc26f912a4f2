/**
 * A pace profile for one baby. Rates and depths of the buckets are proportional to the usual feed: 9 % of it a minute, and 27 % of it deep; the pouring
 * bucket keeps the shipped proportion to the lasting one; neither is tighter than the shipped profile. All of this is our assumption. Measured on feeds
 * drawn from published flows (`npm run bench pacing`): with 20 % depth 87 % of feeds with two let-downs at three months stay silent; with 25 % 93 %, but
 * 88 % at six months; with 27 % 95 % and 90 %; scaled down for small feeds, 70 % of Howie's newborns stay silent, not 94 %. Used only with a family's figures.
 */
import { PlainError } from '../../base/errors.ts';
import { type OwnFeed, ownFeedCurve, peakAheadMl } from '../rules/own-feed.ts';
import { checkPaceProfile, type Figure, type PaceProfile } from './profile.ts';
import { SHIPPED_PROFILE } from './shipped-profile.ts';
import type { OwnFeedKnown } from './weighed-feeds.ts';

/** How early "too fast" comes: gentle late, strict early. */
export type Strictness = 'gentle' | 'usual' | 'strict';

export interface PaceWishes {
  /** Null: not known, so the shipped figures are scaled by strictness alone. */
  usualFeedMl: number | null;
  strictness: Strictness;
  /** The own baby's time at the breast; absent if a family does not breastfeed or does not know. */
  breast?: Pick<OwnFeed, 'minutes' | 'sides'>;
  /** The own feeds by test weighing; used instead of the minutes alone. */
  weighed?: OwnFeedKnown;
}

export interface ScaledProfile {
  profile: PaceProfile;
  /** False when the own feed is faster than the ranges of the profile allow, so that some cues will come. Null without minutes. */
  followsOwnFeed: boolean | null;
}

export const USUAL_FEED_RANGE_ML = { min: 20, max: 300 } as const;
export const BREAST_MINUTES_RANGE = { min: 3, max: 60 } as const;

const RATE_SHARE_PER_MIN = 0.09;
const DEPTH_SHARE = 0.27;
/** Factor on rate and depth. */
const STRICTNESS: Record<Strictness, number> = { gentle: 1.25, usual: 1, strict: 0.8 };
/** Margin over the own feed, since feeds differ and sucks come in bursts. Own choice. */
const OWN_ROOM: Record<Strictness, number> = { gentle: 1.5, usual: 1.25, strict: 1.1 };
const BURST_ML = 2;
/** A deeper bucket would respond too late; beyond this depth its rate is raised instead. */
const DEEPEST_SHARE = 0.35;

/** @throws PlainError pace-wishes when a value is not a number or out of its range */
export function scaledProfile({ usualFeedMl, strictness, breast, weighed }: PaceWishes): ScaledProfile {
  if (usualFeedMl !== null) checkRange('usual feed', usualFeedMl, USUAL_FEED_RANGE_ML, 'mL');
  if (breast) checkRange('time at the breast', breast.minutes, BREAST_MINUTES_RANGE, 'minutes');
  const { lasting, pouring } = SHIPPED_PROFILE.buckets;
  const factor = STRICTNESS[strictness];
  const rateMlPerMin = factor * Math.max(lasting.rateMlPerMin.value, RATE_SHARE_PER_MIN * (usualFeedMl ?? 0));
  const depthMl = factor * Math.max(lasting.depthMl.value, DEPTH_SHARE * (usualFeedMl ?? 0));
  const pouringRate = rateMlPerMin * (pouring.rateMlPerMin.value / lasting.rateMlPerMin.value);
  const pouringDepth = depthMl * (pouring.depthMl.value / lasting.depthMl.value);
  const own = ownFeed(usualFeedMl, breast, weighed);
  // The margin grows with the relative uncertainty of the mean feed.
  const room = OWN_ROOM[strictness] * (weighed ? 1 + weighed.sdMl / weighed.feedMl : 1);
  const one = loosened(lasting, rateMlPerMin, depthMl, own, room);
  const other = loosened(pouring, pouringRate, pouringDepth, own, room);
  const source = sourceText(usualFeedMl, strictness, breast, weighed);
  const profile = checkPaceProfile({
    ...SHIPPED_PROFILE,
    name: 'scaled',
    buckets: {
      lasting: withSource(lasting, one, source),
      pouring: withSource(pouring, other, source),
    },
  });
  return { profile, followsOwnFeed: own ? one.follows && other.follows : null };
}

function ownFeed(
  usualFeedMl: number | null,
  breast: PaceWishes['breast'],
  weighed: OwnFeedKnown | undefined,
): OwnFeed | undefined {
  if (weighed) return { usualFeedMl: weighed.feedMl, minutes: weighed.minutes, sides: weighed.sides };
  return breast && usualFeedMl !== null ? { ...breast, usualFeedMl } : undefined;
}

type BucketFigures = PaceProfile['buckets']['lasting'];

interface Fitted {
  rateMlPerMin: number;
  depthMl: number;
  follows: boolean;
}

/** Loosens the bucket until the own feed gives no cue: first its depth, then its rate. It is never tightened. */
function loosened(
  { rateMlPerMin: rates, depthMl: depths }: BucketFigures,
  rateMlPerMin: number,
  depthMl: number,
  own: OwnFeed | undefined,
  room: number,
): Fitted {
  let rate = clamp(rateMlPerMin, rates);
  const depth = clamp(depthMl, depths);
  if (!own) return { rateMlPerMin: rate, depthMl: depth, follows: true };
  const curve = ownFeedCurve(own);
  const deepest = Math.min(depths.max, Math.max(depth, DEEPEST_SHARE * own.usualFeedMl));
  const needed = (): number => room * peakAheadMl(curve, rate) + BURST_ML;
  while (needed() > deepest && rate < rates.max) rate = Math.min(rates.max, rate + 0.5);
  const neededMl = needed();
  return {
    rateMlPerMin: rate,
    depthMl: Math.min(deepest, Math.max(depth, neededMl)),
    follows: neededMl <= deepest,
  };
}

const clamp = (value: number, { min, max }: Figure): number => Math.min(max, Math.max(min, value));

function withSource(shipped: BucketFigures, fitted: Fitted, source: string): BucketFigures {
  return {
    rateMlPerMin: { ...shipped.rateMlPerMin, value: round(fitted.rateMlPerMin), source },
    depthMl: { ...shipped.depthMl, value: round(fitted.depthMl), source },
  };
}

/** Rounds up, so that the bucket stays loose enough. */
const round = (value: number): number => Math.ceil(value * 10 - 1e-9) / 10;

function sourceText(
  usualFeedMl: number | null,
  strictness: Strictness,
  breast: PaceWishes['breast'],
  weighed: OwnFeedKnown | undefined,
): string {
  const scaled =
    usualFeedMl === null
      ? `the shipped figure, ${strictness}: our assumption, no source`
      : `scaled to a usual feed of ${Math.round(usualFeedMl)} mL, ${strictness}: our assumption, no source`;
  if (weighed) {
    const { feedMl, sdMl, minutes, feeds } = weighed;
    return `${scaled}; and so that her own feed stays silent, ${Math.round(feedMl)} ± ${Math.ceil(2 * sdMl)} mL (k = 2) in ${Math.round(minutes)} min by ${feeds} weighed feeds (shape: Lucas, Lucas and Baum 1980)`;
  }
  if (usualFeedMl === null) return scaled;
  if (!breast) return scaled;
  const sides = breast.sides === 1 ? 'one side' : 'two sides';
  return `${scaled}; and so that her own feed of ${breast.minutes} min, ${sides}, stays silent (shape: Lucas, Lucas and Baum 1980)`;
}

function checkRange(
  name: string,
  value: number,
  { min, max }: { min: number; max: number },
  unit: string,
): void {
  if (value >= min && value <= max) return;
  throw new PlainError(
    'pace-wishes',
    `The ${name} is ${value}; it must be from ${min} to ${max} ${unit}.`,
    'Correct it, or leave it out to use the shipped pace.',
  );
}
