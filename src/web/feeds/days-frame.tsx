/** What the pages of a day and of a week have around them: whose, which one, and what the server says of it. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { DayAnswer, WeekAnswer } from '../../app/review/review-answers.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { Unanswered } from '../parts/unanswered.tsx';
import { UnitChoice } from '../parts/ways.tsx';
import { WhoseNotice } from '../parts/whose-notice.tsx';
import { pageGraphWidth } from './feed-graph.tsx';
import { queryOf } from './query.ts';
import { useBaby, WaysThrough } from './ways-through.tsx';
import { FEEDS_WORDS } from './words.ts';
import { ZoneNotice } from './zone-notice.tsx';

export interface DaysFrameProps<A> {
  page: 'days' | 'week';
  /** Path at the server. */
  path: string;
  day: string | null;
  guard: Guard;
  /** The title until there is an answer. */
  title: string;
  /** Another number asks anew. */
  anew?: number;
  words: readonly [before: string, after: string];
  dayOf: (answer: A) => string;
  children: (answer: A) => ComponentChildren;
}

export function DaysFrame<A extends DayAnswer | WeekAnswer>(props: DaysFrameProps<A>) {
  const { page, path, day, guard, title, anew, words, dayOf, children } = props;
  const { language, unit } = useChoices();
  const [baby, setBaby] = useBaby();
  const [width] = useState(pageGraphWidth);
  const query = queryOf(language, unit, { day: day ?? undefined, baby: baby ?? undefined, anew, width });
  const asked = useJson<A>(`${path}?${query}`);
  const answer = asked.state === 'here' ? asked.answer : null;
  return (
    <ReadingPage title={answer?.told.title ?? title} page={page} guard={guard}>
      <WhoseNotice />
      <ZoneNotice />
      <Unanswered of={asked} />
      {answer && (
        <>
          <WaysThrough
            ways={answer}
            day={dayOf(answer)}
            words={words}
            to={(other) => ({ page, day: other })}
            onBaby={setBaby}
          />
          {children(answer)}
        </>
      )}
      <UnitChoice />
    </ReadingPage>
  );
}

/** Published intakes, to open. */
export function Published({ lines }: { lines: readonly string[] }) {
  const { language } = useChoices();
  if (lines.length === 0) return null;
  return (
    <details>
      <summary>{FEEDS_WORDS[language].days.published}</summary>
      {lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
    </details>
  );
}
