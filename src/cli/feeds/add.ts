/** `ebbline feeds add`: enters a feed that no sleeve measured. */
import { addedByHand, type HandFeedAsked } from '../../app/review/hand-entry.ts';
import type { HandFeedKind } from '../../feed/record/written-by-hand.ts';
import { say } from '../print-out.ts';
import { type Kept, withStore } from '../with-store.ts';

/** @throws FieldError if it is not valid; then nothing is stored */
export const addCommand = (kind: HandFeedKind, options: HandFeedAsked & Kept): Promise<void> =>
  withStore(options, (store) => say(addedByHand(store, kind, options)));
