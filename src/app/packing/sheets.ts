/** Feeding plan and day sheet from stored data: settings, past feeds, the plan of a day. */

import { clockOf, dayAfter, dayOf } from '../../base/calendar.ts';
import { FieldError } from '../../base/errors.ts';
import { recordOf } from '../../base/typed.ts';
import { lightRhythm } from '../../feed/live/light-language.ts';
import { burpParams } from '../../pacing/family-rules.ts';
import { BARE_GUIDANCE } from '../../pacing/guidance.ts';
import { completedProfile, paceParams } from '../../pacing/profile/profile.ts';
import { SHIPPED_PROFILE } from '../../pacing/profile/shipped-profile.ts';
import type { PaperEnding } from '../../paper/paper-ending.ts';
import { type DaySheetInput, daySheet } from '../../paper/sheets/day-sheet.ts';
import { type FeedingPlanInput, feedingPlan, type LightRhythms } from '../../paper/sheets/feeding-plan.ts';
import { daySheetPage, feedingPlanPage } from '../../paper/sheets/page.ts';
import { clockText } from '../../paper/sheets/texts.ts';
import { LIGHT_SIGNS, type PrintedLanguage } from '../../paper/sheets/words.ts';
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import { type PackingSettings, readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { boundsOf, daySum, feedsOfBaby } from '../../review/index.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { guideFrom } from '../babies/babies-service.ts';
import { type AskedBaby, askedBaby } from '../babies/known-babies.ts';
import type { Query } from '../review/review-answers.ts';
import type { SheetName } from './packing-answers.ts';
import { planFor, type Surroundings } from './plan-for.ts';

/** The light's real rhythms. */
const RHYTHMS = recordOf(LIGHT_SIGNS, (sign) => lightRhythm(sign)) as LightRhythms;

/** With fewer feeds than this nothing is called usual. */
const FEWEST_FEEDS = 5;

/** @param query language, baby; for the plan also day, from, until, feeds; for the day sheet also day and filled */
export async function sheetFor(
  store: FeedJournal,
  name: SheetName,
  ending: PaperEnding,
  query: Query,
  surroundings: Surroundings,
  settings: PackingSettings = readPackingSettings(store.readPacking()),
): Promise<string | Uint8Array> {
  if (name === 'day-sheet') {
    const sheet = daySheet(daySheetInput(store, query, surroundings));
    if (ending === 'html') return daySheetPage(sheet);
    // The PDF writer is large, so it is loaded only for a PDF.
    return (await import('../../paper/sheets/day-sheet-pdf.ts')).daySheetPdf(sheet);
  }
  const plan = feedingPlan(
    feedingPlanInput(store, query, surroundings, settings),
    query.sleeve === 'none' ? null : RHYTHMS,
  );
  if (ending === 'html') return feedingPlanPage(plan);
  return (await import('../../paper/sheets/feeding-plan-pdf.ts')).feedingPlanPdf(plan);
}

const languageOf = ({ language }: Query): PrintedLanguage => (language === 'es' ? 'es' : 'en');
const textOf = (value: unknown): string | null =>
  typeof value === 'string' && value.trim() !== '' ? value.trim() : null;

const BABY: Record<PrintedLanguage, string> = { en: 'Baby', es: 'Bebé' };

function babyOf(store: FeedJournal, query: Query, nowMs: number): AskedBaby {
  const baby = askedBaby(store, textOf(query.baby), nowMs);
  return { ...baby, birthDay: textOf(query.birthDay) ?? baby.birthDay };
}

/** @throws FieldError if no person to call was entered */
function feedingPlanInput(
  store: FeedJournal,
  query: Query,
  surroundings: Surroundings,
  settings: PackingSettings,
): FeedingPlanInput {
  const language = languageOf(query);
  const baby = babyOf(store, query, surroundings.nowMs());
  if (!settings.parent)
    throw new FieldError(
      'parent-missing',
      'parent',
      'The feeding plan says whom to call, and nobody was entered.',
      'Enter a name and a phone number: on the page under the rules, or with --call "Name, number".',
    );
  const answer = answerFor(store, query, baby, surroundings, settings);
  return {
    language,
    babyName: baby.name ?? BABY[language],
    parent: settings.parent,
    backup: settings.backup,
    day: textOf(query.day) === null ? null : (answer?.ask.day ?? null),
    milkKind: store.readSetup().milkKind ?? 'expressed',
    leftoverRule: settings.leftoverRule,
    notes: settings.notes,
    burp: burpOf(store, baby, surroundings.nowMs(), query.sleeve !== 'none'),
    ...(answer && usualOf(answer, settings.spare?.rule ?? 'last')),
  };
}

/** The burp rule of page and light for this baby; null if there is no sleeve and no setting. */
function burpOf(
  store: FeedJournal,
  { id, name, birthDay }: AskedBaby,
  nowMs: number,
  hasSleeve: boolean,
): FeedingPlanInput['burp'] {
  if (!hasSleeve && !store.listBabies().some((baby) => baby.id === id)) return null;
  const setup = { ...store.readSetup(), babyId: id, babyName: name, babyBirthDate: birthDay };
  const { ran } = guideFrom(store, () => nowMs, false)(setup);
  const { burp } = paceParams(completedProfile(ran?.profile ?? SHIPPED_PROFILE));
  const own = burpParams(burp, ran?.guidance ?? BARE_GUIDANCE, setup.portionMl);
  return own === null ? 'half-way-and-end' : own.dueMl;
}

function answerFor(
  store: FeedJournal,
  query: Query,
  baby: AskedBaby,
  surroundings: Surroundings,
  settings: PackingSettings,
): PackingAnswer | null {
  const { birthDay } = baby;
  if (birthDay === null) return null;
  const { usualHours } = settings;
  const now = surroundings.nowMs();
  const feeds = textOf(query.feeds);
  const ask = {
    birthDay,
    day: textOf(query.day) ?? dayAfter(dayOf(now, surroundings.zone)),
    from: textOf(query.from) ?? usualHours.from,
    until: textOf(query.until) ?? usualHours.until,
    feeds: feeds === null ? null : Number(feeds),
  };
  return planFor(store, ask, baby, surroundings, { settings }).answer;
}

function usualOf(
  { portion, plan, bottleFeeds, usualMinutes }: PackingAnswer,
  spareRule: 'last' | 'kept-apart',
): Pick<FeedingPlanInput, 'usual' | 'usualMinutes' | 'bottles'> {
  const sizes = (role: string): number[] =>
    plan?.bottles.filter((bottle) => bottle.role === role).map(({ ml }) => ml) ?? [];
  const [spareMl] = sizes('spare');
  return {
    // Only the baby's own feeds define what is usual.
    usual:
      bottleFeeds < FEWEST_FEEDS
        ? null
        : { lowMl: Math.max(10, portion.perFeed.lowMl), highMl: portion.perFeed.highMl },
    usualMinutes,
    bottles: plan && {
      feedsMl: sizes('feed'),
      topUpsMl: sizes('top-up'),
      spare: spareMl === undefined ? null : { ml: spareMl, rule: spareRule },
    },
  };
}

function daySheetInput(store: FeedJournal, query: Query, { nowMs, zone }: Surroundings): DaySheetInput {
  const language = languageOf(query);
  const baby = babyOf(store, query, nowMs());
  const day = textOf(query.day);
  const base = { language, babyName: baby.name ?? BABY[language], day };
  return day !== null && query.filled !== undefined
    ? { ...base, feeds: feedsOfDay(store, day, baby, zone, language) }
    : base;
}

/** All ended feeds of the day, measured or written in by hand. */
function feedsOfDay(
  store: FeedJournal,
  day: string,
  baby: AskedBaby,
  zone: string,
  language: PrintedLanguage,
): NonNullable<DaySheetInput['feeds']> {
  const { feeds } = daySum(feedsOfBaby(store.between(boundsOf(day, zone)), baby), day, zone);
  return feeds
    .filter(({ isOpen }) => !isOpen)
    .map((feed) => ({
      time: clockText(clockOf(feed.atMs, zone), language),
      kind: feed.kind,
      isByHand: feed.isByHand,
      milkKind: feed.milkKind,
      offeredMl: feed.offeredMl,
      leftOverMl: feed.leftMl,
      takenMl: feed.takenMl === null ? null : Math.max(0, feed.takenMl),
      minutes: feed.durationSec === null ? null : feed.durationSec / 60,
      note: feed.note ?? '',
      initials: (feed.caregiver ?? '').slice(0, 20),
    }));
}
