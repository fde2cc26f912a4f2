/** What the commands of a ward do. */
import { familyZone } from '../../app/kept/family-zone.ts';
import { endingOf } from '../../app/out-file.ts';
import type { Arranging } from '../../app/ward/arranging.ts';
import * as asked from '../../app/ward/arranging-asked.ts';
import { markText, trailText } from '../../app/ward/trail-text.ts';
import { PAPER_ENDINGS } from '../../paper/paper-ending.ts';
import { type Lines, shown, writeOut } from '../print-out.ts';
import { type Kept, onStore } from '../with-store.ts';
import type { WardRuns } from './commands.ts';

/** Exit code: the trail is not as it was written. */
const EXIT_CHANGED = 1;

const arranging = <G>(act: (ward: Arranging, given: G) => Lines | Promise<Lines>) =>
  onStore((store, given: G & Kept) => act(asked.arrangingHere(store), given));

export const runs: WardRuns = {
  board: async (given) => (await import('./board.ts')).showBoard(given),
  labels: arranging(async (ward, given) => {
    endingOf(given.out, ['pdf']);
    return writeOut(given.out, await asked.labelsAsAsked(ward, given), given);
  }),
  'ward arrive': arranging(asked.arriveAsAsked),
  'ward leave': arranging(asked.leaveAsAsked),
  'ward child': arranging(asked.nextAsAsked),
  'ward consent': arranging(asked.consentAsAsked),
  'ward handover': onStore(async (store, given) => {
    const ending = endingOf(given.out, PAPER_ENDINGS);
    return writeOut(given.out, await asked.handoverAsAsked(store, ending, given), given);
  }),
  'ward trail': onStore((store, { mark, json }) => {
    if (mark !== undefined) {
      const isAsMarked = asked.isTrailAsMarked(store, mark);
      if (!isAsMarked) process.exitCode = EXIT_CHANGED;
      return markText(isAsMarked);
    }
    const trail = asked.lookedAtTrail(store);
    if (trail.broken !== null) process.exitCode = EXIT_CHANGED;
    return shown(json, trail, () => trailText(trail, familyZone(store).zone));
  }),
};
