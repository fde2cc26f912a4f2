/**
 * Screening: for which babies the sleeve may give pace cues; asked once for each baby. Any yes, a birth date under six weeks ago, and any unanswered
 * question turn the "slower" and "enough" cues off; a clinician's plan turns them on again. Burps, change of sides and cues that advise to ask a
 * clinician stay on. The list is common practice, no source; it makes no diagnosis.
 */
import { CUE_KINDS, CUES, type CueKind } from './cues/cues.ts';
import type { Language } from './cues/words.ts';
import type { Guidance } from './guidance.ts';
import { checkPaceProfile, type Figure, type PaceProfile } from './profile/profile.ts';

export type ScreeningId =
  | 'born-early'
  | 'newborn-or-slow-gain'
  | 'jaundice'
  | 'tongue-tie'
  | 'cleft'
  | 'heart-or-lung'
  | 'thickened';

export interface ScreeningQuestion {
  id: ScreeningId;
  ask: Record<Language, string>;
}

export const SCREENING: readonly ScreeningQuestion[] = [
  {
    id: 'born-early',
    ask: { en: 'Born before 37 weeks?', es: '¿Nació antes de las 37 semanas?' },
  },
  {
    id: 'newborn-or-slow-gain',
    ask: {
      en: 'Under six weeks old, or slow to gain weight?',
      es: '¿Tiene menos de seis semanas o aumenta poco de peso?',
    },
  },
  { id: 'jaundice', ask: { en: 'Jaundice now?', es: '¿Tiene ictericia ahora?' } },
  { id: 'tongue-tie', ask: { en: 'Tongue-tie?', es: '¿Tiene frenillo lingual corto?' } },
  {
    id: 'cleft',
    ask: { en: 'Cleft lip or palate?', es: '¿Tiene labio leporino o paladar hendido?' },
  },
  {
    id: 'heart-or-lung',
    ask: { en: 'A heart or lung condition?', es: '¿Tiene una enfermedad del corazón o de los pulmones?' },
  },
  {
    id: 'thickened',
    ask: { en: 'Are feeds thickened?', es: '¿Se espesan las tomas?' },
  },
];

export type ScreeningAnswers = Partial<Record<ScreeningId, boolean>>;

/** "Slower" and "enough" cues, those that follow from them, and those that would make milk come faster. */
export const HELD_BACK: readonly CueKind[] = CUE_KINDS.filter((kind) => CUES[kind].heldBack);

/** A clinician's plan: its own rates and pauses. The store checks its structure; the ranges of its figures are checked where it is used. */
export interface ClinicianPlan {
  /** Who gave it, as the family typed it. */
  from: string;
  lasting: { rateMlPerMin: number; depthMl: number };
  pouring: { rateMlPerMin: number; depthMl: number };
  /** A pause after this many sucks; null: no such rule. */
  rhythm: { sucks: number; pauseSec: number } | null;
  /** Whether "enough?" may be asked of this baby. */
  enough: boolean;
}

/** True until every question has been answered. */
export const isScreeningOpen = (answers: ScreeningAnswers): boolean =>
  SCREENING.some(({ id }) => answers[id] === undefined);

/** All that is known about the baby, wherever it was entered. */
export interface WhoDrinks {
  /** Age in days by each birth date given for this feed, in the record or typed in: the lowest counts. Null: not given; NaN: not readable. */
  agesDays: readonly (number | null)[];
  answers: ScreeningAnswers;
  plan: ClinicianPlan | null;
}

/**
 * Whether "slower" and "enough" cues may be given. `plan`: by a clinician's plan. `no`: an answer or the age forbids it. `unknown`: not every question
 * has an answer, so they are not given either.
 */
export type CuePermission = 'yes' | 'plan' | 'no' | 'unknown';

const SIX_WEEKS_DAYS = 42;

/** @param ageDays  null: not known @returns true also for an age that is not readable (NaN) */
export const isUnderSixWeeks = (ageDays: number | null): boolean =>
  ageDays !== null && !(ageDays >= SIX_WEEKS_DAYS);

/** The only place where this is decided, however a feed begins. */
export function cuePermission({ agesDays, answers, plan }: WhoDrinks): CuePermission {
  const isForbidden = SCREENING.some(({ id }) => answers[id]) || agesDays.some(isUnderSixWeeks);
  if (isScreeningOpen(answers)) return isForbidden ? 'no' : 'unknown';
  if (plan !== null) return 'plan';
  return isForbidden ? 'no' : 'yes';
}

export interface Screened {
  profile: PaceProfile;
  guidance: Guidance;
  /** The text of the page about it (words.screening); null when the cues are given without a plan. */
  say: 'cuesOff' | 'notScreened' | 'withPlan' | null;
}

/**
 * @param base the family's settings
 * @throws PlainError pace-profile-invalid when a figure of the plan lies out of its range
 */
export function screened(base: { profile: PaceProfile; guidance: Guidance }, who: WhoDrinks): Screened {
  const { profile, guidance } = base;
  const permission = cuePermission(who);
  if (permission === 'yes') return { profile, guidance, say: null };
  if (permission === 'plan' && who.plan) return withPlan(base, who.plan);
  const cuesOff = [...new Set([...guidance.cuesOff, ...HELD_BACK])];
  const say = permission === 'unknown' ? 'notScreened' : 'cuesOff';
  return { profile, guidance: { ...guidance, cuesOff }, say };
}

function withPlan(
  { profile, guidance }: { profile: PaceProfile; guidance: Guidance },
  plan: ClinicianPlan,
): Screened {
  const source = `plan of ${plan.from}`;
  const set = (figure: Figure, value: number): Figure => ({ ...figure, value, source });
  const bucket = (name: 'lasting' | 'pouring'): PaceProfile['buckets']['lasting'] => ({
    rateMlPerMin: set(profile.buckets[name].rateMlPerMin, plan[name].rateMlPerMin),
    depthMl: set(profile.buckets[name].depthMl, plan[name].depthMl),
  });
  const { suckRhythm } = profile;
  const planned = checkPaceProfile({
    ...profile,
    name: 'clinician',
    buckets: { lasting: bucket('lasting'), pouring: bucket('pouring') },
    suckRhythm: plan.rhythm
      ? {
          ...suckRhythm,
          sucks: set(suckRhythm.sucks, plan.rhythm.sucks),
          pauseSec: set(suckRhythm.pauseSec, plan.rhythm.pauseSec),
        }
      : suckRhythm,
  });
  const off = plan.enough ? guidance.cuesOff : [...guidance.cuesOff, 'offer-stop' as const];
  return {
    profile: planned,
    guidance: {
      ...guidance,
      suckRhythm: plan.rhythm !== null || guidance.suckRhythm,
      cuesOff: [...new Set(off)],
    },
    say: 'withPlan',
  };
}
