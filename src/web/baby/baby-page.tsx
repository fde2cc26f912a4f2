/** The page of one baby: entered once, changed when needed. */
import type { BabiesAnswer, BabyAnswer } from '../../app/babies/baby-answers.ts';
import type { Guard } from '../live/guard.ts';
import { noticeText } from '../live/notices.ts';
import { type Refused, send, useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { troubleAt } from './draft.ts';
import { Field } from './field.tsx';
import { PaceFields } from './pace-fields.tsx';
import { PlanFields } from './plan-fields.tsx';
import { ScreeningFields } from './screening-fields.tsx';
import { useBabyDraft } from './use-baby-draft.ts';
import { BABY_WORDS } from './words.ts';

export function BabyPage({ guard, id }: { guard: Guard; id: string | null }) {
  const { language } = useChoices();
  const words = BABY_WORDS[language];
  const answer = useJson<BabiesAnswer>('/babies');
  const known =
    answer.state === 'here' && id !== null ? answer.answer.babies.find(({ baby }) => baby.id === id) : null;
  return (
    <ReadingPage title={id === null ? words.titleNew : words.title} page="baby" guard={guard}>
      {answer.state === 'refused' && <RefusedNotice error={answer.error} />}
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
  const { draft, kept, refused, setRefused, change, keep, goOn } = useBabyDraft(guard, known);
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
      <SoundChoice guard={guard} onRefused={setRefused} />
      {refused && (refused.field ? <p class="refused">{words.wrong}</p> : <RefusedNotice error={refused} />)}
      <button type="submit" class="strong">
        {words.keep}
      </button>
      <Kept kept={kept} onGoOn={goOn} />
    </form>
  );
}

function SoundChoice({ guard, onRefused }: { guard: Guard; onRefused: (refused: Refused | null) => void }) {
  const words = BABY_WORDS[useChoices().language];
  const muted = guard.view?.muted ?? true;
  return (
    <>
      <OneOf
        name="sound"
        label={words.sound}
        choices={[
          { value: 'off', text: words.soundOff },
          { value: 'on', text: words.soundOn },
        ]}
        value={muted ? 'off' : 'on'}
        onChoose={async (value) => onRefused(await send({ kind: 'mute', on: value === 'off' }))}
      />
      <p class="soft">{words.soundHint}</p>
    </>
  );
}

/** Shown once it is stored, with a link onward. */
function Kept({ kept, onGoOn }: { kept: BabyAnswer | null; onGoOn: () => void }) {
  const { language, words: cueWords } = useChoices();
  const words = BABY_WORDS[language];
  return (
    <>
      <div role="status">
        {kept && <p>{words.kept}</p>}
        {kept?.notices.map((kind) => (
          <p key={kind}>{noticeText(kind, language, cueWords)}</p>
        ))}
      </div>
      {kept && (
        <button type="button" onClick={onGoOn}>
          {words.next}
        </button>
      )}
    </>
  );
}
