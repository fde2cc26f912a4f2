/** The form for a baby while it is filled in: numbers as typed, answers may be missing. Pure. */

import type { BabiesAnswer } from '../../app/babies/baby-answers.ts';
import type { BabyEntry, FamilyChoices } from '../../feed/record/baby.ts';
import { FAMILY_SWITCHES } from '../../pacing/cues/family-switches.ts';
import type { Strictness } from '../../pacing/profile/scaled-profile.ts';
import type { WeighedFeed } from '../../pacing/profile/weighed-feeds.ts';
import type { ScreeningAnswers } from '../../pacing/screening.ts';
import type { Refused } from '../parts/ask.ts';
import type { BabyWords, Part } from './words.ts';

export interface PlanDraft {
  from: string;
  lastingRate: string;
  lastingDepth: string;
  pouringRate: string;
  pouringDepth: string;
  hasRhythm: boolean;
  sucks: string;
  pauseSec: string;
  enough: boolean;
}

export interface Draft {
  name: string;
  birthDate: string | null;
  answers: ScreeningAnswers;
  plan: PlanDraft | null;
  choices: FamilyChoices;
  pace: Strictness;
  usualFeedMl: number | null;
  breastfed: boolean;
  minutes: string;
  sides: 1 | 2;
  weighed: WeighedFeed[];
}

/** Default guidance of a family. The page imports only words and types from pacing, so a test checks that this equals FAMILY_GUIDANCE. */
export const NEW_DRAFT: Draft = {
  name: '',
  birthDate: null,
  answers: {},
  plan: null,
  choices: { burp: 'half-ounce', ...FAMILY_SWITCHES },
  pace: 'usual',
  usualFeedMl: null,
  breastfed: false,
  minutes: '',
  sides: 2,
  weighed: [],
};

/** An empty plan: without default numbers, so that none is accepted unread. */
export const NEW_PLAN: PlanDraft = {
  from: '',
  lastingRate: '',
  lastingDepth: '',
  pouringRate: '',
  pouringDepth: '',
  hasRhythm: false,
  sucks: '',
  pauseSec: '',
  enough: true,
};

export function draftOf(entry: BabyEntry): Draft {
  const { name, birthDate, answers, plan, choices, pace, usualFeedMl, breastfed, breast } = entry;
  return {
    name,
    birthDate,
    answers,
    plan: plan && {
      from: plan.from,
      lastingRate: String(plan.lasting.rateMlPerMin),
      lastingDepth: String(plan.lasting.depthMl),
      pouringRate: String(plan.pouring.rateMlPerMin),
      pouringDepth: String(plan.pouring.depthMl),
      hasRhythm: plan.rhythm !== null,
      sucks: plan.rhythm ? String(plan.rhythm.sucks) : '',
      pauseSec: plan.rhythm ? String(plan.rhythm.pauseSec) : '',
      enough: plan.enough,
    },
    choices,
    pace,
    usualFeedMl,
    breastfed,
    minutes: breast ? String(breast.minutes) : '',
    sides: breast?.sides ?? 2,
    weighed: entry.weighed ?? [],
  };
}

/** A typed number; a comma counts as a decimal point. NaN or null for anything else; the server then refuses it at its field. */
const figure = (text: string): number | null => {
  const value = text.trim() === '' ? Number.NaN : Number(text.replace(',', '.'));
  return Number.isFinite(value) ? value : null;
};

/** The request. The server alone checks it, so that there is one set of checks. */
export function entryOf({ plan, minutes, sides, weighed, ...rest }: Draft): unknown {
  return {
    ...rest,
    ...(weighed.length > 0 && { weighed }),
    plan: plan && {
      from: plan.from,
      lasting: { rateMlPerMin: figure(plan.lastingRate), depthMl: figure(plan.lastingDepth) },
      pouring: { rateMlPerMin: figure(plan.pouringRate), depthMl: figure(plan.pouringDepth) },
      rhythm: plan.hasRhythm ? { sucks: figure(plan.sucks), pauseSec: figure(plan.pauseSec) } : null,
      enough: plan.enough,
    },
    breast: rest.breastfed && minutes.trim() !== '' ? { minutes: figure(minutes), sides } : null,
  };
}

export type FigureName = keyof BabiesAnswer['planFigures'];

/** Path of each number in the request. */
export const FIGURE_FIELDS: Record<FigureName, string> = {
  lastingRate: 'plan.lasting.rateMlPerMin',
  lastingDepth: 'plan.lasting.depthMl',
  pouringRate: 'plan.pouring.rateMlPerMin',
  pouringDepth: 'plan.pouring.depthMl',
  sucks: 'plan.rhythm.sucks',
  pauseSec: 'plan.rhythm.pauseSec',
};

function partOf(field: string): Part {
  if (field === 'plan.from') return 'from';
  if (field === 'breast.minutes') return 'minutes';
  const [part] = field.split('.');
  return part === 'name' ||
    part === 'birthDate' ||
    part === 'answers' ||
    part === 'plan' ||
    part === 'usualFeedMl' ||
    part === 'weighed'
    ? part
    : 'other';
}

/** @returns the sentence to show at `field`; null if that field is not wrong */
export function troubleAt(refused: Refused | null, field: string, words: BabyWords): string | null {
  if (refused?.field !== field) return null;
  return refused.code === 'baby-name-taken' ? words.nameTaken : words.troubles[partOf(field)];
}
