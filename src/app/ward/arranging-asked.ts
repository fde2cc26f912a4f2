/** What a shift leader arranges in a terminal of the house's computer: as the command line asks for it, and what was done, in words. */
import { randomInt } from 'node:crypto';
import { dayStartMs } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import { labelSheet } from '../../paper/labels/label-sheet.ts';
import { labelSheetPdf } from '../../paper/labels/label-sheet-pdf.ts';
import type { PaperEnding } from '../../paper/paper-ending.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { familyZone } from '../kept/family-zone.ts';
import {
  type Arranging,
  arrive,
  type ConsentAsked,
  consent,
  endConsent,
  type LabelsAsked,
  leave,
  makeLabels,
  sayNext,
} from './arranging.ts';
import type { TrailAnswer } from './ward-answers.ts';
import { wardService } from './ward-service.ts';

/** A user of the terminal has the rights of staff; the audit trail names the computer. */
const WHO = { person: 'this computer', role: 'computer' } as const;

export const arrangingHere = (store: FeedStore): Arranging => ({
  store,
  who: WHO,
  nowMs: Date.now,
  random: (below) => randomInt(below),
});

const serviceOf = (store: FeedStore) =>
  wardService(store, { nowMs: Date.now, zone: familyZone(store).zone, isFeeding: () => false });

/** @throws PlainError ward-nobody, baby-which, cot-taken */
export function arriveAsAsked(ward: Arranging, asked: { child: string; cot: string }): string {
  const { child } = asked;
  const cot = asked.cot.trim();
  arrive(ward, { child, cot });
  return `${child} is in cot ${cot}. A label: ebbline labels --child "${child}" --out labels.pdf`;
}

/** @throws PlainError ward-nobody, child-not-here */
export function leaveAsAsked(ward: Arranging, { child }: { child: string }): string {
  leave(ward, child);
  return `${child} has left; the label counts no more.`;
}

/** @returns a PDF to print @throws PlainError labels-none, ward-nobody, child-not-here */
export function labelsAsAsked(
  ward: Arranging,
  asked: Pick<LabelsAsked, 'bottles' | 'paper' | 'language'> & {
    child?: string[];
    sleeve?: number[];
    names?: boolean;
  },
): Promise<Uint8Array> {
  const { child: children = [], bottles, sleeve: sleeves = [], paper, names = false, language } = asked;
  const labels = { children, bottles: Math.round(bottles), sleeves, paper, names, language };
  return labelSheetPdf(labelSheet(makeLabels(ward, labels)));
}

/** @param asked  false: none any more @throws PlainError ward-participant, ward-nobody, study-unknown, participant-unknown */
export function nextAsAsked(
  ward: Arranging,
  asked: { child: string; nipple?: string | false; study?: string | false; participant?: string },
) {
  const { child, nipple, study, participant } = asked;
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
}

/** @throws PlainError ward-nobody, consent-whose */
export function consentAsAsked(
  ward: Arranging,
  asked: Pick<ConsentAsked, 'child' | 'what'> & { person?: string; day?: string; end?: boolean },
): string {
  const { child, what, person = null, day, end } = asked;
  if (end)
    return endConsent(ward, { child, what, person }) === 0
      ? 'There was none to take back.'
      : 'Taken back, from now on.';
  const untilMs = day === undefined ? null : dayStartMs(day, familyZone(ward.store).zone);
  consent(ward, { child, what, person, untilMs });
  return day === undefined ? 'Allowed until it is taken back.' : `Allowed until ${day}.`;
}

/** @returns the sheet for the next shift */
export function handoverAsAsked(
  store: FeedStore,
  ending: PaperEnding,
  { hours, language }: { hours: number; language: 'en' | 'es' },
): Promise<string | Uint8Array> {
  const toMs = Date.now();
  return serviceOf(store).handoverPaper({ fromMs: toMs - hours * 3600_000, toMs, language, ending }, WHO);
}

export const lookedAtTrail = (store: FeedStore): TrailAnswer => serviceOf(store).trail(WHO);

/** @param mark  as printed on an earlier sheet @returns whether nothing was changed or cut off up to there */
export const isTrailAsMarked = (store: FeedStore, mark: string): boolean =>
  serviceOf(store).isTrailAsMarked(mark, WHO);
