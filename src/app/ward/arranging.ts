/** Arrangements by a shift leader: children in cots, labels, consents. Each is recorded in the audit trail. */
import { babyCalled } from '../../base/babies.ts';
import { PlainError } from '../../base/errors.ts';
import type { LabelSheetInput } from '../../paper/labels/label-sheet.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { newCode } from '../../ward/labels/code.ts';
import type { Label } from '../../ward/labels/label.ts';
import { inResearch } from '../../ward/people/roles.ts';
import { STUDY_CLOCK, StudyFolder, studiesAmong } from '../study/study-folder.ts';
import type { Who } from './ward-answers.ts';
import { isHere } from './ward-service.ts';

export interface Arranging {
  store: FeedStore;
  who: Who;
  nowMs: () => number;
  /** Uniform random whole numbers below the given one; for codes they must be unpredictable. */
  random: (below: number) => number;
}

/** @throws PlainError ward-nobody, baby-which, cot-taken */
export function arrive({ store, who, nowMs }: Arranging, asked: { child: string; cot: string }): void {
  const babyId = childCalled(store, asked.child);
  const atMs = nowMs();
  store.ward(({ records, trail }) => {
    const taken = records.stays().find((stay) => isHere(stay, atMs) && stay.cot === asked.cot);
    if (taken && taken.babyId !== babyId)
      throw new PlainError(
        'cot-taken',
        `Cot ${asked.cot} is another child’s.`,
        'Choose another cot, or say first that the child there has left: ebbline ward leave.',
      );
    records.endStay(babyId, atMs);
    records.addStay({ babyId, cot: asked.cot, fromMs: atMs });
    trail.add({ atMs, ...who, act: 'arrived', babyId, more: `cot ${asked.cot}` });
  });
}

/** Its label becomes invalid, and its sleeve is released unless its feed runs. @throws PlainError ward-nobody, child-not-here */
export function leave({ store, who, nowMs }: Arranging, child: string): void {
  const babyId = childCalled(store, child);
  const atMs = nowMs();
  store.ward(({ records, trail }) => {
    if (records.endStay(babyId, atMs) === 0)
      throw new PlainError('child-not-here', `${child} is in no cot here.`, 'Nothing was changed.');
    records.voidLabels({ babyId, sleeve: null }, atMs);
    // A feed that was bound and has not begun would be written down as this child's, whoever drinks.
    for (const bound of records.bindings())
      if (bound.babyId === babyId && bound.feedId === null) records.unbind(bound.sleeve, atMs);
    trail.add({ atMs, ...who, act: 'left', babyId, more: null });
  });
}

export interface LabelsAsked {
  children: readonly string[];
  bottles: number;
  sleeves: readonly number[];
  /** Print names of children beside their codes; false: the cot instead. */
  names: boolean;
  language: 'en' | 'es';
  paper: 'letter' | 'a4';
}

/** Makes new labels; earlier ones of the same child or sleeve become invalid. @returns the sheet to print */
export function makeLabels({ store, who, nowMs, random }: Arranging, asked: LabelsAsked): LabelSheetInput {
  const atMs = nowMs();
  const children = asked.children.map((child) => ({ name: child, babyId: childCalled(store, child) }));
  if (children.length + asked.bottles + asked.sleeves.length === 0)
    throw new PlainError(
      'labels-none',
      'No labels were asked for.',
      'Name what they are for: --child NAME, --bottles 12, --sleeve 7.',
    );
  return store.ward(({ records, trail }) => {
    const labels: LabelSheetInput['labels'] = [];
    const stays = records.stays().filter((stay) => isHere(stay, atMs));
    const make = (of: Pick<Label, 'kind' | 'babyId' | 'sleeve'>, caption: string): void => {
      const code = newCode(random);
      records.voidLabels(of, atMs);
      records.addLabel({ code, ...of, madeAtMs: atMs });
      labels.push({ code, kind: of.kind, caption });
    };
    for (const { name, babyId } of children) {
      const stay = stays.find((one) => one.babyId === babyId);
      if (!stay)
        throw new PlainError(
          'child-not-here',
          `${name} is in no cot here.`,
          'Say first where: ebbline ward arrive NAME --cot COT. Nothing was printed.',
        );
      make({ kind: 'child', babyId, sleeve: null }, (asked.names ? name : stay.cot).slice(0, 14));
      trail.add({ atMs, ...who, act: 'labelled', babyId, more: null });
    }
    for (let i = 0; i < asked.bottles; i++) make({ kind: 'bottle', babyId: null, sleeve: null }, '');
    for (const sleeve of asked.sleeves) make({ kind: 'sleeve', babyId: null, sleeve }, String(sleeve));
    return { language: asked.language, paper: asked.paper, labels };
  });
}

export interface ConsentAsked {
  child: string;
  what: 'parent' | 'research';
  /** The parent's identifier at sign-in. */
  person: string | null;
  /** Null: until withdrawn. */
  untilMs: number | null;
}

/** @throws PlainError ward-nobody, consent-whose */
export function consent({ store, who, nowMs }: Arranging, asked: ConsentAsked): void {
  const babyId = childCalled(store, asked.child);
  const atMs = nowMs();
  if (asked.what === 'parent' && asked.person === null)
    throw new PlainError(
      'consent-whose',
      'A parent is let in by her sign-in, and none was named.',
      'Name it: --person ID, as the provider knows her.',
    );
  store.ward(({ records, trail }) => {
    const { what, person, untilMs } = asked;
    records.addConsent({ babyId, what, person, fromMs: atMs, untilMs, givenTo: who.person });
    trail.add({ atMs, ...who, act: 'consent-given', babyId, more: what });
  });
}

/** Withdraws all consents of this kind. @returns their number */
export function endConsent(
  { store, who, nowMs }: Arranging,
  asked: Pick<ConsentAsked, 'child' | 'what' | 'person'>,
): number {
  const babyId = childCalled(store, asked.child);
  const atMs = nowMs();
  return store.ward(({ records, trail }) => {
    const given = records
      .consents()
      .filter((one) => one.babyId === babyId && one.what === asked.what)
      .filter((one) => asked.person === null || one.person === asked.person)
      .filter(({ untilMs }) => untilMs === null || untilMs > atMs);
    for (const { no } of given) records.endConsent(no, atMs);
    trail.add({ atMs, ...who, act: 'consent-ended', babyId, more: asked.what });
    return given.length;
  });
}

export interface NextAsked {
  child: string;
  /** Null: none any more; absent: as before. */
  teat?: string | null;
  study?: { study: string; participant: string } | null;
}

/**
 * What each feed of a child begins with. It is a session of the study only while the family takes part (`consent`).
 * @returns whether it takes part now
 * @throws PlainError ward-nobody, study-unknown, participant-unknown
 */
export function sayNext({ store, who, nowMs }: Arranging, asked: NextAsked): boolean {
  const babyId = childCalled(store, asked.child);
  const { teat, study } = asked;
  if (study) StudyFolder.open(studiesAmong(store.files), study.study, STUDY_CLOCK).nextArm(study.participant);
  const atMs = nowMs();
  return store.ward(({ records, trail }) => {
    records.sayNextFeeds(babyId, {
      ...(teat !== undefined && { teat }),
      ...(study !== undefined && { study: study?.study ?? null, participant: study?.participant ?? null }),
    });
    trail.add({ atMs, ...who, act: 'said-next-feeds', babyId, more: null });
    return inResearch(records.consents(), atMs).includes(babyId);
  });
}

/** @throws PlainError ward-nobody, baby-which */
function childCalled(store: FeedJournal, text: string): string {
  const id = babyCalled(store.allBabies(), text)?.id ?? null;
  if (id !== null) return id;
  throw new PlainError(
    'ward-nobody',
    `No child called ${text} was entered.`,
    'Enter the child first, on the page under Baby.',
  );
}
