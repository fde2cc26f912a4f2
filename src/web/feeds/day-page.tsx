/** A day: milk that left bottles, feeds of all kinds, published intakes for comparison, a file to hand on. */
import { useState } from 'preact/hooks';
import type { DayAnswer } from '../../app/review/review-answers.ts';
import { keyOf } from '../../base/babies.ts';
import type { Guard } from '../live/guard.ts';
import { postJson, type Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { useMay } from '../parts/right.tsx';
import { addressOf } from '../parts/route.ts';
import { DaysFrame, Published } from './days-frame.tsx';
import { Picture } from './feed-graph.tsx';
import { HandOnDay } from './hand-on.tsx';
import { FEEDS_WORDS } from './words.ts';

export function DayPage({ day, guard }: { day: string | null; guard: Guard }) {
  const { language } = useChoices();
  const words = FEEDS_WORDS[language].days;
  const [anew, setAnew] = useState(0);
  return (
    <DaysFrame<DayAnswer>
      page="days"
      path="/day"
      day={day}
      guard={guard}
      anew={anew}
      title={words.title}
      words={[words.before, words.after]}
      dayOf={({ told }) => told.day}
    >
      {(answer) => <OneDay answer={answer} onChanged={() => setAnew(anew + 1)} />}
    </DaysFrame>
  );
}

function OneDay({ answer, onChanged }: { answer: DayAnswer; onChanged: () => void }) {
  const { language } = useChoices();
  const words = FEEDS_WORDS[language];
  const isOwner = useMay()('owner');
  const { told } = answer;
  return (
    <div class="told">
      <p class="lead">{told.sentence}</p>
      <Picture svg={answer.picture} />
      {told.lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
      {told.feeds.length === 0 ? (
        <p>{words.days.none}</p>
      ) : (
        <ul>
          {told.feeds.map((feed) => (
            <DayLine key={feed.id} feed={feed} onChanged={onChanged} />
          ))}
        </ul>
      )}
      <p class="ways-on">
        {isOwner && (
          <a class="button" href={addressOf({ page: 'write-feed', day: told.day })}>
            {words.writeIn}
          </a>
        )}
        <a class="button" href={addressOf({ page: 'week', day: told.day })}>
          {words.week}
        </a>
      </p>
      <Published lines={told.published} />
      <details>
        <summary>{words.handOn.title}</summary>
        <HandOnDay day={told.day} baby={keyOf(answer.baby)} />
      </details>
    </div>
  );
}

type Line = DayAnswer['told']['feeds'][number];

function DayLine({ feed, onChanged }: { feed: Line; onChanged: () => void }) {
  const isOwner = useMay()('owner');
  const inside = (
    <>
      <span class="feed-time">{feed.time}</span>
      <span class="feed-amount">{feed.amount}</span>
      <span class="feed-marks">
        {feed.marks}
        {feed.note && <span class="own-note"> {feed.note}</span>}
      </span>
    </>
  );
  if (!feed.isByHand)
    return (
      <li>
        <a class="feed-line" href={addressOf({ page: 'feed', id: feed.id })}>
          {inside}
        </a>
      </li>
    );
  return (
    <li>
      <div class="feed-line">{inside}</div>
      {isOwner && <TakeBack feed={feed} onChanged={onChanged} />}
    </li>
  );
}

function TakeBack({ feed, onChanged }: { feed: Line; onChanged: () => void }) {
  const { language } = useChoices();
  const [refused, setRefused] = useState<Refused | null>(null);
  const takeBack = async () => {
    const posted = await postJson(`/hand-feeds/${encodeURIComponent(feed.id)}/take-back`);
    if ('error' in posted) setRefused(posted.error);
    else onChanged();
  };
  const text = FEEDS_WORDS[language].days.takeBack;
  return (
    <>
      <button type="button" class="wordy" aria-label={`${text}: ${feed.time}`} onClick={takeBack}>
        {text}
      </button>
      {refused && <RefusedNotice error={refused} />}
    </>
  );
}
