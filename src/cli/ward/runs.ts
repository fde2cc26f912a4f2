/** What the commands of a ward do. */
import { randomInt } from 'node:crypto';
import { familyZone } from '../../app/kept/family-zone.ts';
import { endingOf } from '../../app/out-file.ts';
import {
  type Arranging,
  arrive,
  consent,
  endConsent,
  leave,
  makeLabels,
  sayNext,
} from '../../app/ward/arranging.ts';
import { trailText } from '../../app/ward/trail-text.ts';
import { wardService } from '../../app/ward/ward-service.ts';
import { dayStartMs } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import { labelSheet } from '../../paper/labels/label-sheet.ts';
import { labelSheetPdf } from '../../paper/labels/label-sheet-pdf.ts';
import { PAPER_ENDINGS } from '../../paper/paper-ending.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { type Lines, shown, writeOut } from '../print-out.ts';
import { type Kept, onStore } from '../with-store.ts';
import type { WardRuns } from './commands.ts';

/** A user of this terminal has the rights of staff; the audit trail names the computer. */
const WHO = { person: 'this computer', role: 'computer' } as const;

const arranging = <G extends Kept>(act: (ward: Arranging, given: G) => Lines | Promise<Lines>) =>
  onStore((store, given: G) =>
    act({ store, who: WHO, nowMs: Date.now, random: (below) => randomInt(below) }, given),
  );

const serviceOf = (store: FeedStore) =>
  wardService(store, { nowMs: Date.now, zone: familyZone(store).zone, isFeeding: () => false });

export const runs: WardRuns = {
  board: async (given) => (await import('./board.ts')).showBoard(given),
  labels: arranging(async (ward, given) => {
    const {
      out,
      child: children = [],
      bottles,
      sleeve: sleeves = [],
      paper,
      names = false,
      language,
    } = given;
    endingOf(out, ['pdf']);
    const asked = { children, bottles: Math.round(bottles), sleeves, paper, names, language };
    return writeOut(out, await labelSheetPdf(labelSheet(makeLabels(ward, asked))), given);
  }),
  'ward arrive': arranging((ward, { child, cot: typed }) => {
    const cot = typed.trim();
    arrive(ward, { child, cot });
    return `${child} is in cot ${cot}. A label: ebbline labels --child "${child}" --out labels.pdf`;
  }),
  'ward leave': arranging((ward, { child }) => {
    leave(ward, child);
    return `${child} has left; the label counts no more.`;
  }),
  'ward child': arranging((ward, { child, nipple, study, participant }) => {
    if ((typeof study === 'string') !== (participant !== undefined))
      throw new PlainError(
        'ward-participant',
        'A child takes part in a study as one of its participants.',
        'Name both: --study CODE --participant CODE. Nothing was changed.',
      );
    const takesPart = sayNext(ward, {
      child,
      ...(nipple !== undefined && { teat: nipple || null }),
      ...(study === false && { study: null }),
      ...(typeof study === 'string' && { study: { study, participant: participant! } }),
    });
    return [
      `From the next feed on, ${child} is fed so.`,
      typeof study === 'string' &&
        !takesPart &&
        `No feed is a session before research is allowed: ebbline ward consent "${child}" --what research`,
    ];
  }),
  'ward consent': arranging((ward, { child, what, person = null, day, end }) => {
    const asked = { child, what, person };
    if (end)
      return endConsent(ward, asked) === 0 ? 'There was none to take back.' : 'Taken back, from now on.';
    const untilMs = day === undefined ? null : dayStartMs(day, familyZone(ward.store).zone);
    consent(ward, { ...asked, untilMs });
    return day === undefined ? 'Allowed until it is taken back.' : `Allowed until ${day}.`;
  }),
  'ward handover': onStore(async (store, given) => {
    const { out, language, hours } = given;
    const ending = endingOf(out, PAPER_ENDINGS);
    const toMs = Date.now();
    const asked = { fromMs: toMs - hours * 3600_000, toMs, language, ending };
    return writeOut(out, await serviceOf(store).handoverPaper(asked, WHO), given);
  }),
  'ward trail': onStore((store, { mark, json }) => {
    if (mark !== undefined) return comparedTrail(store, mark);
    const { lines, broken } = serviceOf(store).trail(WHO);
    if (broken !== null) process.exitCode = 1;
    return shown(json, { lines, broken }, (trail) => trailText(trail, familyZone(store).zone));
  }),
};

function comparedTrail(store: FeedStore, mark: string): string {
  if (serviceOf(store).isTrailAsMarked(mark, WHO))
    return 'The line is there as it was printed: up to it nothing was cut off.';
  process.exitCode = 1;
  return 'The line is not there as it was printed: lines were changed or taken away, or the mark was not read right.';
}
