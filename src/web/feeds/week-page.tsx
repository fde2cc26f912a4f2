/** Seven days, the seven days before, and the milk list. */
import type { WeekAnswer } from '../../app/review/review-answers.ts';
import type { Guard } from '../live/guard.ts';
import { useChoices } from '../parts/choices.tsx';
import { addressOf } from '../parts/route.ts';
import { DaysFrame, Published } from './days-frame.tsx';
import { Picture } from './feed-graph.tsx';
import { ToldTable } from './told-table.tsx';
import { FEEDS_WORDS } from './words.ts';

export function WeekPage({ day, guard }: { day: string | null; guard: Guard }) {
  const { language } = useChoices();
  const { days: words, week: title } = FEEDS_WORDS[language];
  return (
    <DaysFrame<WeekAnswer>
      page="week"
      path="/week"
      day={day}
      guard={guard}
      title={title}
      words={[words.weekBefore, words.weekAfter]}
      dayOf={({ told }) => told.table.rows.at(-1)!.day}
    >
      {(answer) => <OneWeek answer={answer} />}
    </DaysFrame>
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
      <Published lines={told.published} />
    </div>
  );
}
