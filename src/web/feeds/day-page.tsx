/** A day: milk that left bottles, feeds of all kinds, published intakes for comparison, a file to hand on. */
import { useState } from 'preact/hooks';
import type { DayAnswer } from '../../app/review/review-answers.ts';
import { keyOf } from '../../base/babies.ts';
import type { Guard } from '../live/guard.ts';
import { postJson, type Refused, useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { useMay } from '../parts/right.tsx';
import { addressOf } from '../parts/route.ts';
import { UnitChoice } from '../parts/ways.tsx';
import { WhoseNotice } from '../parts/whose-notice.tsx';
import { Picture, pageGraphWidth } from './feed-graph.tsx';
import { HandOnDay } from './hand-on.tsx';
import { queryOf } from './query.ts';
import { useBaby, WaysThrough } from './ways-through.tsx';
import { FEEDS_WORDS } from './words.ts';
import { ZoneNotice } from './zone-notice.tsx';

export function DayPage({ day, guard }: { day: string | null; guard: Guard }) {
  const { texts, language, unit } = useChoices();
  const words = FEEDS_WORDS[language];
  const [baby, setBaby] = useBaby();
  const [anew, setAnew] = useState(0);
  const [width] = useState(pageGraphWidth);
  const query = queryOf(language, unit, { day: day ?? undefined, baby: baby ?? undefined, anew, width });
  const answer = useJson<DayAnswer>(`/day?${query}`);
  const title = answer.state === 'here' ? answer.answer.told.title : words.days.title;
  return (
    <ReadingPage title={title} page="days" guard={guard}>
      <WhoseNotice />
      <ZoneNotice />
      {answer.state === 'asking' && <p class="soft">{texts.feeds.asking}</p>}
      {answer.state === 'refused' && <RefusedNotice error={answer.error} />}
      {answer.state === 'here' && (
        <>
          <WaysThrough
            ways={answer.answer}
            day={answer.answer.told.day}
            words={[words.days.before, words.days.after]}
            to={(other) => ({ page: 'days', day: other })}
            onBaby={setBaby}
          />
          <OneDay answer={answer.answer} onChanged={() => setAnew(anew + 1)} />
        </>
      )}
      <UnitChoice />
    </ReadingPage>
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
      {told.published.length > 0 && (
        <details>
          <summary>{words.days.published}</summary>
          {told.published.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </details>
      )}
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
