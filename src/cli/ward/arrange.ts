/** Commands of a shift leader: children in cots, labels, consents. The work is in `app/ward`. */
import { randomInt } from 'node:crypto';
import { familySurroundings, familyZone } from '../../app/kept/family-zone.ts';
import {
  type Arranging,
  arrive,
  consent,
  endConsent,
  leave,
  makeLabels,
  sayNext,
} from '../../app/ward/arranging.ts';
import { wardService } from '../../app/ward/ward-service.ts';
import { clockOf, dayOf, dayStartMs } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import { labelSheet } from '../../paper/labels/label-sheet.ts';
import { labelSheetPdf } from '../../paper/labels/label-sheet-pdf.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { say, sayJson, writeOut } from '../print-out.ts';
import { withStore } from '../with-store.ts';

/** A user of this terminal has the rights of staff; the audit trail names the computer. */
const WHO = { person: 'this computer', role: 'computer' } as const;

type Kept = { simulated?: boolean };
const arranging = (store: FeedStore): Arranging => ({
  store,
  who: WHO,
  nowMs: Date.now,
  random: (below) => randomInt(below),
});

export interface LabelsOptions extends Kept {
  out: string;
  child?: string[];
  bottles: number;
  sleeve?: number[];
  paper: 'letter' | 'a4';
  names?: boolean;
  language: 'en' | 'es';
  force?: boolean;
}

export const labelsCommand = (options: LabelsOptions): Promise<void> =>
  withStore(options, async (store) => {
    if (!options.out.endsWith('.pdf'))
      throw new PlainError(
        'labels-ending',
        'Labels are written as a PDF.',
        'End the name of the file in .pdf.',
      );
    const { child: children = [], bottles, sleeve = [], paper, names = false, language } = options;
    const asked = { children, bottles: Math.round(bottles), sleeves: sleeve, paper, names, language };
    const sheet = labelSheet(makeLabels(arranging(store), asked));
    writeOut(options.out, await labelSheetPdf(sheet), { force: options.force ?? false });
  });

export const arriveCommand = (child: string, options: Kept & { cot: string }): Promise<void> =>
  withStore(options, (store) => {
    arrive(arranging(store), { child, cot: options.cot.trim() });
    say(
      `${child} is in cot ${options.cot.trim()}. A label: ebbline labels --child "${child}" --out labels.pdf`,
    );
  });

export const leaveCommand = (child: string, options: Kept): Promise<void> =>
  withStore(options, (store) => {
    leave(arranging(store), child);
    say(`${child} has left; the label counts no more.`);
  });

export interface ChildOptions extends Kept {
  /** False: no nipple, or no study, any more. */
  nipple?: string | false;
  study?: string | false;
  participant?: string;
}

export const childCommand = (child: string, options: ChildOptions): Promise<void> =>
  withStore(options, (store) => {
    const { nipple, study, participant } = options;
    if ((typeof study === 'string') !== (participant !== undefined))
      throw new PlainError(
        'ward-participant',
        'A child takes part in a study as one of its participants.',
        'Name both: --study CODE --participant CODE. Nothing was changed.',
      );
    const takesPart = sayNext(arranging(store), {
      child,
      ...(nipple !== undefined && { teat: nipple || null }),
      ...(study === false && { study: null }),
      ...(typeof study === 'string' && { study: { study, participant: participant! } }),
    });
    say([
      `From the next feed on, ${child} is fed so.`,
      typeof study === 'string' &&
        !takesPart &&
        `No feed is a session before research is allowed: ebbline ward consent "${child}" --what research`,
    ]);
  });

export interface ConsentOptions extends Kept {
  what: 'parent' | 'research';
  person?: string;
  day?: string;
  end?: boolean;
}

export const consentCommand = (child: string, options: ConsentOptions): Promise<void> =>
  withStore(options, (store) => {
    const { what, person = null, day } = options;
    if (options.end) {
      const ended = endConsent(arranging(store), { child, what, person });
      say(ended === 0 ? 'There was none to take back.' : 'Taken back, from now on.');
      return;
    }
    const untilMs = day === undefined ? null : dayStartMs(day, familyZone(store).zone);
    consent(arranging(store), { child, what, person, untilMs });
    say(day === undefined ? 'Allowed until it is taken back.' : `Allowed until ${day}.`);
  });

const serviceOf = (store: FeedStore) =>
  wardService(store, { nowMs: Date.now, zone: familyZone(store).zone, isFeeding: () => false });

export interface HandoverOptions extends Kept {
  out: string;
  hours: number;
  language: 'en' | 'es';
  force?: boolean;
}

export const handoverCommand = (options: HandoverOptions): Promise<void> =>
  withStore(options, async (store) => {
    const ending = (['pdf', 'html'] as const).find((one) => options.out.endsWith(`.${one}`));
    if (!ending)
      throw new PlainError(
        'handover-ending',
        'The sheet is written as .pdf or .html.',
        'End the name of the file so.',
      );
    const toMs = Date.now();
    const asked = { fromMs: toMs - options.hours * 3600_000, toMs, language: options.language };
    const paper = await serviceOf(store).handoverPaper({ ...asked, ending }, WHO);
    writeOut(options.out, paper, { force: options.force ?? false });
  });

export const trailCommand = (options: Kept & { json?: boolean; mark?: string }): Promise<void> =>
  withStore(options, (store) => {
    if (options.mark !== undefined) return compareTrail(store, options.mark);
    const { zone } = familySurroundings(store);
    const { lines, broken } = serviceOf(store).trail(WHO);
    if (options.json) sayJson({ lines, broken });
    else
      say([
        ...lines.map(({ atMs, person, role, act, babyId, more }) =>
          [dayOf(atMs, zone), clockOf(atMs, zone), person, role, act, babyId ?? '', more ?? '']
            .join('  ')
            .trimEnd(),
        ),
        broken === null ? 'The list is whole.' : `The list was changed from line ${broken} on.`,
      ]);
    if (broken !== null) process.exitCode = 1;
  });

function compareTrail(store: FeedStore, mark: string): void {
  const isSo = serviceOf(store).isTrailAsMarked(mark, WHO);
  say(
    isSo
      ? 'The line is there as it was printed: up to it nothing was cut off.'
      : 'The line is not there as it was printed: lines were changed or taken away, or the mark was not read right.',
  );
  if (!isSo) process.exitCode = 1;
}
