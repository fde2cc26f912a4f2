/** Days and weeks, and a feed computed again: they take more of the program than the rest, and are loaded for themselves. */
import { knownBaby } from '../../app/babies/known-babies.ts';
import { familySurroundings } from '../../app/kept/family-zone.ts';
import { endingOf } from '../../app/out-file.ts';
import { againFrom } from '../../app/review/feed-again.ts';
import { againText } from '../../app/review/replay-text.ts';
import type { ReviewService } from '../../app/review/review-answers.ts';
import { reviewService } from '../../app/review/review-service.ts';
import { dayText, weekText } from '../../app/review/told-text.ts';
import { type Lines, shown, writeOut } from '../print-out.ts';
import { type Kept, onStore } from '../with-store.ts';
import type { FeedGiven } from './commands.ts';
import { warnOpen } from './warn-open.ts';

/** Refuses an unknown name, which would give an empty day. */
const told = <G extends Kept & { baby?: string }>(act: (service: ReviewService, given: G) => Lines) =>
  onStore((store, given: G) => {
    warnOpen(store);
    if (given.baby !== undefined) knownBaby(store, given.baby, Date.now());
    return act(reviewService(store, familySurroundings(store)), given);
  });

export const showDay = told((service, given: FeedGiven<'day'>) => {
  const { out, names, json } = given;
  if (out !== undefined) endingOf(out, ['html']);
  const query = { ...given, names: names ? '1' : '' };
  if (out === undefined) return shown(json, service.day(query), dayText);
  return writeOut(out, service.dayFile(query), given);
});

export const showWeek = told((service, given: FeedGiven<'week'>) =>
  shown(given.json, service.week({ ...given }), weekText),
);

export const computeAgain = onStore((store, { feed, json }: FeedGiven<'feeds again'>) => {
  const again = againFrom(store, feed);
  return json ? JSON.stringify(again) : againText(again);
});
