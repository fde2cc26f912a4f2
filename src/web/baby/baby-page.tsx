/** One baby: asked once, kept, changed when something changes. */
import { useEffect, useState } from 'preact/hooks';
import type { BabiesAnswer, BabyAnswer } from '../../app/babies/baby-answers.ts';
import type { Guard } from '../live/guard.ts';
import { noticeText } from '../live/notices.ts';
import { type Refused, refusedBy, send, UNREACHED, useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNote } from '../parts/refused-note.tsx';
import { addressOf } from '../parts/route.ts';
import { type Draft, draftOf, entryOf, NEW_DRAFT, troubleAt } from './draft.ts';
import { Field } from './field.tsx';
import { PaceFields } from './pace-fields.tsx';
import { PlanFields } from './plan-fields.tsx';
import { ScreeningFields } from './screening-fields.tsx';
import { BABY_WORDS } from './words.ts';

export function BabyPage({ guard, id }: { guard: Guard; id: string | null }) {
  const { language } = useChoices();
  const words = BABY_WORDS[language];
  const answer = useJson<BabiesAnswer>('/babies');
  const known =
    answer.state === 'here' && id !== null ? answer.answer.babies.find(({ baby }) => baby.id === id) : null;
  return (
    <ReadingPage title={id === null ? words.titleNew : words.title} page="baby" guard={guard}>
      {answer.state === 'refused' && <RefusedNote error={answer.error} />}
      {answer.state === 'here' && id !== null && !known && <p role="alert">{words.unknown}</p>}
      {answer.state === 'here' && (id === null || known) && (
        <BabyForm guard={guard} start={answer.answer} known={known ?? null} />
      )}
    </ReadingPage>
  );
}

interface BabyFormProps {
  guard: Guard;
  start: BabiesAnswer;
  known: BabyAnswer | null;
}

function BabyForm({ guard, start, known }: BabyFormProps) {
  const { language, words: cueWords } = useChoices();
  const words = BABY_WORDS[language];
  const [draft, setDraft] = useState<Draft>(known ? draftOf(known.baby) : NEW_DRAFT);
  const [kept, setKept] = useState<BabyAnswer | null>(null);
  const [refused, setRefused] = useState<Refused | null>(null);
  useEffect(() => {
    if (refused?.field) document.querySelector('.refused[id]')?.scrollIntoView({ block: 'center' });
  }, [refused]);
  const baby = kept?.baby ?? known?.baby ?? null;
  const change = (part: Partial<Draft>) => {
    setDraft({ ...draft, ...part });
    setKept(null);
  };
  const keep = async (event: Event) => {
    event.preventDefault();
    const posted = await post(baby ? `/babies/${baby.id}` : '/babies', entryOf(draft));
    setRefused('error' in posted ? posted.error : null);
    if ('answer' in posted) setKept(posted.answer);
  };
  const goOn = async () => {
    if (!kept || !guard.view) return;
    const { id: babyId, name: babyName, birthDate: babyBirthDate } = kept.baby;
    const error = await send({
      kind: 'setup',
      setup: { ...guard.view.setup, babyId, babyName, babyBirthDate },
    });
    setRefused(error);
    if (!error) location.hash = addressOf({ page: 'before' });
  };
  const muted = guard.view?.muted ?? true;
  const anyYes = Object.values(draft.answers).some(Boolean);
  return (
    <form class="before" noValidate onSubmit={keep}>
      <div class="side-by-side">
        <Field
          id="baby-name"
          label={words.name}
          value={draft.name}
          trouble={troubleAt(refused, 'name', words)}
          onChange={(name) => change({ name })}
        />
        <Field
          id="baby-born"
          type="date"
          label={words.born}
          hint={words.bornHint}
          value={draft.birthDate ?? ''}
          trouble={troubleAt(refused, 'birthDate', words)}
          onChange={(birthDate) => change({ birthDate: birthDate || null })}
        />
      </div>
      <ScreeningFields
        words={words}
        questions={start.questions}
        answers={draft.answers}
        refused={refused}
        onChange={(answers) => change({ answers })}
      />
      {(anyYes || draft.plan) && (
        <>
          <p role="status">{!draft.plan && cueWords.screening.cuesOff}</p>
          <PlanFields
            words={words}
            plan={draft.plan}
            figures={start.planFigures}
            refused={refused}
            onChange={(plan) => change({ plan })}
          />
        </>
      )}
      <PaceFields
        words={words}
        draft={draft}
        learnedMl={known?.learnedUsualMl ?? null}
        ownFeed={(kept ?? known)?.ownFeed ?? null}
        refused={refused}
        onChange={change}
      />
      <OneOf
        name="sound"
        label={words.sound}
        choices={[
          { value: 'off', text: words.soundOff },
          { value: 'on', text: words.soundOn },
        ]}
        value={muted ? 'off' : 'on'}
        onChoose={async (value) => setRefused(await send({ kind: 'mute', on: value === 'off' }))}
      />
      <p class="soft">{words.soundHint}</p>
      {refused && (refused.field ? <p class="refused">{words.wrong}</p> : <RefusedNote error={refused} />)}
      <button type="submit" class="strong">
        {words.keep}
      </button>
      <div role="status">
        {kept && <p>{words.kept}</p>}
        {kept?.notices.map((kind) => (
          <p key={kind}>{noticeText(kind, language, cueWords)}</p>
        ))}
      </div>
      {kept && (
        <button type="button" onClick={goOn}>
          {words.next}
        </button>
      )}
    </form>
  );
}

async function post(address: string, entry: unknown): Promise<{ answer: BabyAnswer } | { error: Refused }> {
  try {
    const response = await fetch(address, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(entry),
    });
    return response.ok
      ? { answer: (await response.json()) as BabyAnswer }
      : { error: await refusedBy(response) };
  } catch {
    return { error: UNREACHED };
  }
}
