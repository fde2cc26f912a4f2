/** What a house with many children arranges in a terminal. */
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
import { answer, say, writeOut } from '../print-out.ts';
import { type Kept, withStore } from '../with-store.ts';

/** A user of this terminal has the rights of staff; the audit trail names the computer. */
const WHO = { person: 'this computer', role: 'computer' } as const;

const arranging = (options: Kept, act: (arranging: Arranging) => void | Promise<void>): Promise<void> =>
  withStore(options, (store) =>
    act({ store, who: WHO, nowMs: Date.now, random: (below) => randomInt(below) }),
  );

interface Written extends Kept {
  out: string;
  language: 'en' | 'es';
  force?: boolean;
}

export interface LabelsOptions extends Written {
  child?: string[];
  bottles: number;
  sleeve?: number[];
  paper: 'letter' | 'a4';
  names?: boolean;
}

export const labelsCommand = (options: LabelsOptions): Promise<void> =>
  arranging(options, async (ward) => {
    const {
      out,
      child: children = [],
      bottles,
      sleeve: sleeves = [],
      paper,
      names = false,
      language,
    } = options;
    endingOf(out, ['pdf']);
    const asked = { children, bottles: Math.round(bottles), sleeves, paper, names, language };
    writeOut(out, await labelSheetPdf(labelSheet(makeLabels(ward, asked))), options);
  });

export const arriveCommand = (child: string, options: Kept & { cot: string }): Promise<void> =>
  arranging(options, (ward) => {
    const cot = options.cot.trim();
    arrive(ward, { child, cot });
    say(`${child} is in cot ${cot}. A label: ebbline labels --child "${child}" --out labels.pdf`);
  });

export const leaveCommand = (child: string, options: Kept): Promise<void> =>
  arranging(options, (ward) => {
    leave(ward, child);
    say(`${child} has left; the label counts no more.`);
  });

export interface ChildOptions extends Kept {
  /** False: no nipple, or no study, any more. */
  nipple?: string | false;
  study?: string | false;
  participant?: string;
}

export const childCommand = (child: string, options: ChildOptions): Promise<void> =>
  arranging(options, (ward) => {
    const { nipple, study, participant } = options;
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
  arranging(options, (ward) => {
    const { what, person = null, day } = options;
    const asked = { child, what, person };
    if (options.end)
      return say(endConsent(ward, asked) === 0 ? 'There was none to take back.' : 'Taken back, from now on.');
    const untilMs = day === undefined ? null : dayStartMs(day, familyZone(ward.store).zone);
    consent(ward, { ...asked, untilMs });
    return say(day === undefined ? 'Allowed until it is taken back.' : `Allowed until ${day}.`);
  });

const serviceOf = (store: FeedStore) =>
  wardService(store, { nowMs: Date.now, zone: familyZone(store).zone, isFeeding: () => false });

export const handoverCommand = (options: Written & { hours: number }): Promise<void> =>
  withStore(options, async (store) => {
    const { out, language, hours } = options;
    const ending = endingOf(out, PAPER_ENDINGS);
    const toMs = Date.now();
    const asked = { fromMs: toMs - hours * 3600_000, toMs, language, ending };
    writeOut(out, await serviceOf(store).handoverPaper(asked, WHO), options);
  });

export const trailCommand = (options: Kept & { json?: boolean; mark?: string }): Promise<void> =>
  withStore(options, (store) => {
    if (options.mark !== undefined) return compareTrail(store, options.mark);
    const { lines, broken } = serviceOf(store).trail(WHO);
    answer(options.json, { lines, broken }, (trail) => trailText(trail, familyZone(store).zone));
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
