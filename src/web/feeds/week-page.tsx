/** Seven days, the seven days before, and the milk list. */
import { useState } from 'preact/hooks';
import type { WeekAnswer } from '../../app/review/review-answers.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { addressOf } from '../parts/route.ts';
import { UnitChoice } from '../parts/ways.tsx';
import { WhoseNotice } from '../parts/whose-notice.tsx';
import { Picture, pageGraphWidth } from './feed-graph.tsx';
import { queryOf } from './query.ts';
import { ToldTable } from './told-table.tsx';
import { useBaby, WaysThrough } from './ways-through.tsx';
import { FEEDS_WORDS } from './words.ts';
import { ZoneNotice } from './zone-notice.tsx';

export function WeekPage({ day, guard }: { day: string | null; guard: Guard }) {
  const { texts, language, unit } = useChoices();
  const words = FEEDS_WORDS[language];
  const [baby, setBaby] = useBaby();
  const [width] = useState(pageGraphWidth);
  const query = queryOf(language, unit, { day: day ?? undefined, baby: baby ?? undefined, width });
  const answer = useJson<WeekAnswer>(`/week?${query}`);
  const title = answer.state === 'here' ? answer.answer.told.title : words.week;
  return (
    <ReadingPage title={title} page="week" guard={guard}>
      <WhoseNotice />
      <ZoneNotice />
      {answer.state === 'asking' && <p class="soft">{texts.feeds.asking}</p>}
      {answer.state === 'refused' && <RefusedNotice error={answer.error} />}
      {answer.state === 'here' && (
        <>
          <WaysThrough
            ways={answer.answer}
            day={answer.answer.told.table.rows.at(-1)!.day}
            words={[words.days.weekBefore, words.days.weekAfter]}
            to={(other) => ({ page: 'week', day: other })}
            onBaby={setBaby}
          />
          <OneWeek answer={answer.answer} />
        </>
      )}
      <UnitChoice />
    </ReadingPage>
  );
}

function OneWeek({ answer: { told, picture } }: { answer: WeekAnswer }) {
  const { language } = useChoices();
  const words = FEEDS_WORDS[language];
  const rows = told.table.rows.map(({ day, cells: [name, ...rest] }) => ({
    key: day,
    cells: [
      <a key={day} class="in-table" href={addressOf({ page: 'days', day })}>
        {name}
      </a>,
      ...rest,
    ],
  }));
  return (
    <div class="told">
      <p class="lead">{told.sentence}</p>
      <Picture svg={picture} />
      {told.lines.map((line) => (
        <p key={line} class="note">
          {line}
        </p>
      ))}
      <ToldTable label={words.days.table} heads={told.table.heads} rows={rows} isStacked />
      <h2>{told.compare.title}</h2>
      {told.compare.lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
      <h2>{words.days.milk}</h2>
      {told.milk.map((line) => (
        <p key={line}>{line}</p>
      ))}
      <p>
        <a class="button" href={addressOf({ page: 'milk' })}>
          {words.days.milk}
        </a>
      </p>
      {told.published.length > 0 && (
        <details>
          <summary>{words.days.published}</summary>
          {told.published.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </details>
      )}
    </div>
  );
}
