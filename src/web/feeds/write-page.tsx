/** A feed at the breast, or from a bottle without the sleeve, entered by hand. */
import { useState } from 'preact/hooks';
import type { DayAnswer } from '../../app/review/review-answers.ts';
import type { Guard } from '../live/guard.ts';
import { postJson, type Refused, useJson } from '../parts/ask.ts';
import { babyChoices } from '../parts/baby-choices.ts';
import { useChoices } from '../parts/choices.tsx';
import { choicesOf, OneOf } from '../parts/one-of.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { addressOf } from '../parts/route.ts';
import { TextField } from '../parts/text-field.tsx';
import { Unanswered } from '../parts/unanswered.tsx';
import { BottleAmounts } from './amount-field.tsx';
import { Check } from './hand-on.tsx';
import { queryOf } from './query.ts';
import { useBaby } from './ways-through.tsx';
import { FEEDS_WORDS } from './words.ts';
import { FEED_KINDS, SIDES, type WrittenFeed, writtenEntry, writtenFeed, wrongIn } from './written-feed.ts';
import { ZoneNotice } from './zone-notice.tsx';

export function WritePage({ day, guard }: { day: string | null; guard: Guard }) {
  const { language, unit } = useChoices();
  const words = FEEDS_WORDS[language].write;
  const [baby] = useBaby();
  const query = queryOf(language, unit, { day: day ?? undefined, baby: baby ?? undefined });
  const answer = useJson<DayAnswer>(`/day?${query}`);
  return (
    <ReadingPage title={words.title} page="write-feed" guard={guard}>
      <p class="soft">{words.intro}</p>
      <ZoneNotice />
      <Unanswered of={answer} />
      {answer.state === 'here' && <WriteForm answer={answer.answer} />}
    </ReadingPage>
  );
}

/** Fields with a message of their own; other messages are shown at the bottom. */
const FIELDS = ['offeredMl', 'leftMl', 'atMs', 'clock', 'day', 'durationSec'];

function WriteForm({ answer }: { answer: DayAnswer }) {
  const { texts, language, unit } = useChoices();
  const { write: words, baby: babyLabel, beside } = FEEDS_WORDS[language];
  const [feed, setFeed] = useState(() => writtenFeed(answer, Date.now()));
  const [refused, setRefused] = useState<Refused | null>(null);
  const babies = babyChoices(answer.babies, language);
  const change = (part: Partial<WrittenFeed>) => setFeed({ ...feed, ...part });

  const keep = async (event: Event) => {
    event.preventDefault();
    const entry = writtenEntry(feed, answer, unit);
    const field = wrongIn(entry);
    if (field) return setRefused({ code: 'entry-invalid', field, message: beside.mayNotBeEmpty, remedy: '' });
    const posted = await postJson<{ day: string }>('/hand-feeds', entry);
    if ('error' in posted) setRefused(posted.error);
    else location.hash = addressOf({ page: 'days', day: posted.answer.day });
  };
  return (
    <form class="beside" onSubmit={keep} noValidate>
      {babies.length > 1 && (
        <OneOf
          name="whose"
          label={babyLabel}
          choices={babies}
          value={feed.whose}
          onChoose={(whose) => change({ whose })}
        />
      )}
      <OneOf
        name="kind"
        label={words.kind}
        choices={choicesOf(FEED_KINDS, words.kinds)}
        value={feed.kind}
        onChoose={(kind) => change({ kind })}
      />
      {feed.kind === 'refused' && <p class="note">{words.refusedHint}</p>}
      <WhenFields answer={answer} feed={feed} refused={refused} onChange={change} />
      {feed.kind === 'breast' ? (
        <OneOf
          name="side"
          label={words.side}
          choices={choicesOf(SIDES, words.sides)}
          value={feed.side}
          onChoose={(side) => change({ side })}
        />
      ) : (
        <BottleAmounts
          words={words}
          offered={feed.offered}
          left={feed.left}
          onOffered={(offered) => change({ offered })}
          onLeft={(left) => change({ left })}
          refused={refused}
        />
      )}
      <div class="side-by-side">
        <TextField
          id="by"
          label={words.by}
          text={feed.caregiver}
          onText={(caregiver) => change({ caregiver })}
        />
        <TextField id="note" label={words.note} text={feed.note} onText={(note) => change({ note })} />
      </div>
      {refused && !FIELDS.includes(refused.field ?? '') && <RefusedNotice error={refused} />}
      <button type="submit" class="strong">
        {words.keep}
      </button>
      <p>
        <a href={addressOf({ page: 'feeds' })}>{texts.feed.allFeeds}</a>
      </p>
    </form>
  );
}

interface WhenFieldsProps {
  answer: DayAnswer;
  feed: WrittenFeed;
  refused: Refused | null;
  onChange: (part: Partial<WrittenFeed>) => void;
}

function WhenFields({ answer, feed, refused, onChange }: WhenFieldsProps) {
  const { write: words } = FEEDS_WORDS[useChoices().language];
  const at = (field: string) => (refused?.field === field ? refused : null);
  return (
    <>
      <div class="side-by-side">
        <TextField
          id="day"
          type="date"
          label={words.day}
          text={feed.day}
          onText={(day) => onChange({ day })}
          max={answer.today}
          error={at('day')}
        />
        <TextField
          id="clock"
          type="time"
          label={words.clock}
          text={feed.clock}
          onText={(clock) => onChange({ clock })}
          error={at('clock') ?? at('atMs')}
        />
        <TextField
          id="minutes"
          label={words.minutes}
          text={feed.minutes}
          onText={(minutes) => onChange({ minutes })}
          isNumber
          error={at('durationSec')}
        />
      </div>
      {answer.hours > 24 && feed.day === answer.told.day && (
        <Check label={words.again} on={feed.again} onChange={(again) => onChange({ again })} />
      )}
    </>
  );
}
