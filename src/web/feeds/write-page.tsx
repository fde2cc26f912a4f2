/** A feed at the breast, or from a bottle without the sleeve, written in by hand. */
import { useState } from 'preact/hooks';
import type { DayAnswer } from '../../app/review/review-answers.ts';
import { keyOf } from '../../base/babies.ts';
import type { Guard } from '../live/guard.ts';
import { type Refused, useJson } from '../parts/ask.ts';
import { babyChoices } from '../parts/baby-choices.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNote } from '../parts/refused-note.tsx';
import { addressOf } from '../parts/route.ts';
import { AmountField, mlOf } from './amount-field.tsx';
import { clockNow } from './days.ts';
import { Check } from './hand-on.tsx';
import { postJson, queryOf } from './requests.ts';
import { useBaby } from './ways-through.tsx';
import { FEEDS_WORDS } from './words.ts';
import { ZoneNote } from './zone-note.tsx';

const KINDS = ['breast', 'bottle', 'refused'] as const;
const SIDES = ['left', 'right', 'both'] as const;
type Kind = (typeof KINDS)[number];
type Side = (typeof SIDES)[number];

export function WritePage({ day, guard }: { day: string | null; guard: Guard }) {
  const { texts, language, unit } = useChoices();
  const words = FEEDS_WORDS[language].write;
  const [baby] = useBaby();
  const query = queryOf(language, unit, { day: day ?? undefined, baby: baby ?? undefined });
  const answer = useJson<DayAnswer>(`/day?${query}`);
  return (
    <ReadingPage title={words.title} page="write-feed" guard={guard}>
      <p class="soft">{words.intro}</p>
      <ZoneNote />
      {answer.state === 'asking' && <p class="soft">{texts.feeds.asking}</p>}
      {answer.state === 'refused' && <RefusedNote error={answer.error} />}
      {answer.state === 'here' && <WriteForm answer={answer.answer} />}
    </ReadingPage>
  );
}

function WriteForm({ answer }: { answer: DayAnswer }) {
  const { texts, language, unit } = useChoices();
  const { write: words, baby: babyLabel, beside } = FEEDS_WORDS[language];
  const [kind, setKind] = useState<Kind>('breast');
  const [whose, setWhose] = useState(keyOf(answer.baby));
  const [day, setDay] = useState(answer.told.day);
  const [clock, setClock] = useState(() => clockNow(answer.zone, Date.now()));
  const [again, setAgain] = useState(false);
  const [minutes, setMinutes] = useState('');
  const [offered, setOffered] = useState('');
  const [left, setLeft] = useState('');
  const [side, setSide] = useState<Side | null>(null);
  const [caregiver, setCaregiver] = useState('');
  const [note, setNote] = useState('');
  const [refused, setRefused] = useState<Refused | null>(null);
  const babies = babyChoices(answer.babies, language);
  const isBottle = kind !== 'breast';

  const keep = async (event: Event) => {
    event.preventDefault();
    const baby = answer.babies.find((one) => keyOf(one) === whose) ?? answer.baby;
    const [offeredMl, leftMl] = isBottle ? [mlOf(offered, unit), mlOf(left, unit)] : [null, null];
    const durationSec = minutes.trim() === '' ? null : Number(minutes.replace(',', '.')) * 60;
    for (const [field, number] of Object.entries({ offeredMl, leftMl, durationSec })) {
      if (Number.isNaN(number))
        return setRefused({ code: 'entry-invalid', field, message: beside.mayNotBeEmpty, remedy: '' });
    }
    const posted = await postJson<{ day: string }>('/hand-feeds', {
      kind,
      day,
      clock,
      again,
      durationSec,
      offeredMl,
      leftMl,
      side: isBottle ? null : side,
      caregiver: caregiver.trim() || null,
      note: note.trim() || null,
      babyId: baby.id,
      babyName: baby.name,
    });
    if ('error' in posted) setRefused(posted.error);
    else location.hash = addressOf({ page: 'days', day: posted.answer.day });
  };
  const at = (field: string) => (refused?.field === field ? refused : null);
  const FIELDS = ['offeredMl', 'leftMl', 'atMs', 'clock', 'day', 'durationSec'];
  return (
    <form class="beside" onSubmit={keep} noValidate>
      {babies.length > 1 && (
        <OneOf name="whose" label={babyLabel} choices={babies} value={whose} onChoose={setWhose} />
      )}
      <OneOf
        name="kind"
        label={words.kind}
        choices={KINDS.map((value) => ({ value, text: words.kinds[value] }))}
        value={kind}
        onChoose={setKind}
      />
      {kind === 'refused' && <p class="note">{words.refusedHint}</p>}
      <div class="side-by-side">
        <TextField
          id="day"
          type="date"
          label={words.day}
          text={day}
          onText={setDay}
          max={answer.today}
          error={at('day')}
        />
        <TextField
          id="clock"
          type="time"
          label={words.clock}
          text={clock}
          onText={setClock}
          error={at('clock') ?? at('atMs')}
        />
        <TextField
          id="minutes"
          label={words.minutes}
          text={minutes}
          onText={setMinutes}
          isNumber
          error={at('durationSec')}
        />
      </div>
      {answer.hours > 24 && day === answer.told.day && (
        <Check label={words.again} on={again} onChange={setAgain} />
      )}
      {isBottle ? (
        <div class="side-by-side">
          <AmountField
            id="offered"
            label={words.offered}
            text={offered}
            onText={setOffered}
            error={at('offeredMl')}
          />
          <AmountField id="left" label={words.left} text={left} onText={setLeft} error={at('leftMl')} />
        </div>
      ) : (
        <OneOf
          name="side"
          label={words.side}
          choices={SIDES.map((value) => ({ value, text: words.sides[value] }))}
          value={side}
          onChoose={setSide}
        />
      )}
      <div class="side-by-side">
        <TextField id="by" label={words.by} text={caregiver} onText={setCaregiver} />
        <TextField id="note" label={words.note} text={note} onText={setNote} />
      </div>
      {refused && !FIELDS.includes(refused.field ?? '') && <RefusedNote error={refused} />}
      <button type="submit" class="strong">
        {words.keep}
      </button>
      <p>
        <a href={addressOf({ page: 'feeds' })}>{texts.feed.allFeeds}</a>
      </p>
    </form>
  );
}

interface TextFieldProps {
  id: string;
  label: string;
  text: string;
  onText: (text: string) => void;
  type?: 'text' | 'date' | 'time';
  max?: string;
  isNumber?: boolean;
  error?: Refused | null;
}

function TextField({ id, label, text, onText, type = 'text', max, isNumber = false, error }: TextFieldProps) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        {...({ type } as { type: 'text' })}
        autocomplete="off"
        value={text}
        {...(max && { max })}
        {...(isNumber && { inputMode: 'decimal' as const })}
        onInput={({ currentTarget }) => onText(currentTarget.value)}
      />
      {error && <RefusedNote error={error} />}
    </div>
  );
}
