/** `ebbline day` and `ebbline week`: the same words as on the page, in the terminal. */
import { knownBaby } from '../app/babies/known-babies.ts';
import { familySurroundings } from '../app/kept/family-zone.ts';
import { endingOf } from '../app/out-file.ts';
import type { ReviewService } from '../app/review/review-answers.ts';
import { reviewService } from '../app/review/review-service.ts';
import { dayText, weekText } from '../app/review/told-text.ts';
import { warnOpen } from './feeds/whose.ts';
import { answer, writeOut } from './print-out.ts';
import { type Kept, withStore } from './with-store.ts';

export interface TellOptions extends Kept {
  day?: string;
  baby?: string;
  language: string;
  unit: string;
  json?: boolean;
}

export interface DayCommandOptions extends TellOptions {
  out?: string;
  force?: boolean;
  note?: string;
  names?: boolean;
}

/** Refuses an unknown name, which would give an empty day. @throws PlainError */
const told = ({ baby, ...options }: TellOptions, act: (service: ReviewService) => void): Promise<void> =>
  withStore(options, (store) => {
    warnOpen(store);
    if (baby !== undefined) knownBaby(store, baby, Date.now());
    return act(reviewService(store, familySurroundings(store)));
  });

/** @throws PlainError */
export async function dayCommand(options: DayCommandOptions): Promise<void> {
  const { out, names, json, day, baby, language, unit, note } = options;
  if (out !== undefined) endingOf(out, ['html']);
  const query = { day, baby, language, unit, note, names: names ? '1' : '' };
  await told(options, (service) =>
    out === undefined
      ? answer(json, service.day(query), dayText)
      : writeOut(out, service.dayFile(query), options),
  );
}

/** @throws PlainError */
export async function weekCommand(options: TellOptions): Promise<void> {
  await told(options, (service) => answer(options.json, service.week({ ...options }), weekText));
}
