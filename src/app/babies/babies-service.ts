/** The service of the page for babies: records from the store, and the settings of the next feed that follow from them. */
import { isOf } from '../../base/babies.ts';
import { FieldError, PlainError } from '../../base/errors.ts';
import type { Baby, PastFeed } from '../../feed/record/baby.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import { type Guided, guidedBaby, guidedSetup, learnedUsualMl } from '../../feed/recording/guided.ts';
import { teatNotices } from '../../feed/recording/teat-notices.ts';
import type { Figure } from '../../pacing/profile/profile.ts';
import { SHIPPED_PROFILE } from '../../pacing/profile/shipped-profile.ts';
import { ownFeedKnown } from '../../pacing/profile/weighed-feeds.ts';
import { SCREENING } from '../../pacing/screening.ts';
import { checkBabyEntry } from '../../store/database/babies.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import type { BabiesAnswer, BabyAnswer, BabyService, PlanFigure } from './baby-answers.ts';
import { sucksBefore } from './sucks-before.ts';

/** Number of past feeds read: enough for the usual feed and for the quiet level of any caregiver. */
const FEEDS_BACK = 40;

/** @returns ended feeds of a baby, newest first, as corrected */
export function pastFeeds(store: FeedJournal, babyId: string): PastFeed[] {
  return store
    .list({ babyId, limit: FEEDS_BACK })
    .filter(({ state }) => state === 'ended')
    .map(({ atMs, intakeMl, durationSec, setup, corrected, cueCounts }) => ({
      teat: corrected?.setup ?? setup,
      atMs,
      intakeMl,
      durationSec,
      caregiver: (corrected?.setup ?? setup).caregiver,
      isUnguided: !isOf(setup, { id: babyId, name: null }),
      cueCounts,
    }));
}

/**
 * The settings of a feed with these answers.
 * @param simulated  true for a simulated baby
 * @param babies  reads all babies
 * @throws PlainError when the store cannot be read
 */
export const guideFrom =
  (
    store: FeedJournal,
    nowMs: () => number,
    simulated: boolean,
    babies: () => Baby[] = () => store.listBabies(),
  ) =>
  (setup: FeedSetup): Guided =>
    guidedSetup(
      setup,
      babies(),
      (id) => pastFeeds(store, id),
      nowMs(),
      simulated,
      (id) => sucksBefore(store, id, setup, nowMs()),
    );

export function babyService(store: FeedJournal, nowMs: () => number = Date.now): BabyService {
  const answerFor = (baby: Baby): BabyAnswer => {
    const past = pastFeeds(store, baby.id);
    const setup = store.readSetup();
    const { notices } = guidedBaby(baby, past, setup.caregiver, nowMs());
    return {
      baby,
      notices: [...notices, ...teatNotices(past, setup)],
      learnedUsualMl: learnedUsualMl(past),
      ownFeed: ownFeedKnown(baby.weighed ?? []),
    };
  };
  /** Everything is checked before anything is stored. */
  const checkUsable = (entry: unknown): void => {
    const draft: Baby = {
      ...checkBabyEntry(entry, nowMs()),
      id: 'draft',
      createdAtMs: nowMs(),
      answeredAtMs: nowMs(),
      quietSinceMs: null,
    };
    try {
      guidedBaby(draft, [], null, nowMs());
    } catch (error) {
      throw error instanceof PlainError && error.code === 'pace-profile-invalid' ? atPlanField(error) : error;
    }
  };
  return {
    babies: (): BabiesAnswer => ({
      babies: store.listBabies().map(answerFor),
      questions: SCREENING,
      planFigures: PLAN_FIGURES,
    }),
    add(entry) {
      checkUsable(entry);
      return answerFor(store.addBaby(entry));
    },
    change(id, entry) {
      checkUsable(entry);
      return answerFor(store.changeBaby(id, entry));
    },
    undoQuiet: (id) => answerFor(store.undoQuiet(id)),
  };
}

const { buckets, suckRhythm } = SHIPPED_PROFILE;
const figureOf = ({ value, min, max }: Figure): PlanFigure => ({ value, min, max });
const PLAN_FIGURES: BabiesAnswer['planFigures'] = {
  lastingRate: figureOf(buckets.lasting.rateMlPerMin),
  lastingDepth: figureOf(buckets.lasting.depthMl),
  pouringRate: figureOf(buckets.pouring.rateMlPerMin),
  pouringDepth: figureOf(buckets.pouring.depthMl),
  sucks: figureOf(suckRhythm.sucks),
  pauseSec: figureOf(suckRhythm.pauseSec),
};

/** Place of each figure of a clinician's plan in the resulting profile. */
const PLACES: readonly [inProfile: string, field: string, figure: PlanFigure][] = [
  ['buckets.lasting.rateMlPerMin', 'plan.lasting.rateMlPerMin', PLAN_FIGURES.lastingRate],
  ['buckets.lasting.depthMl', 'plan.lasting.depthMl', PLAN_FIGURES.lastingDepth],
  ['buckets.pouring.rateMlPerMin', 'plan.pouring.rateMlPerMin', PLAN_FIGURES.pouringRate],
  ['buckets.pouring.depthMl', 'plan.pouring.depthMl', PLAN_FIGURES.pouringDepth],
  ['suckRhythm.sucks', 'plan.rhythm.sucks', PLAN_FIGURES.sucks],
  ['suckRhythm.pauseSec', 'plan.rhythm.pauseSec', PLAN_FIGURES.pauseSec],
];

function atPlanField(error: PlainError): PlainError {
  const place = PLACES.find(([inProfile]) => error.message.includes(inProfile));
  if (!place) return error;
  const [, field, { min, max }] = place;
  return new FieldError(
    'plan-out-of-range',
    field,
    `This figure must be from ${min} to ${max}.`,
    'Enter it as the clinician gave it; outside of this range the sleeve cannot follow it.',
  );
}
