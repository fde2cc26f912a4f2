/** What is stored, a file of it to take away, and deleting a baby for good (confirmed twice). */
import { useState } from 'preact/hooks';
import type { ForgottenAnswer, KeptAnswer } from '../../app/kept/kept-answers.ts';
import type { BabyRef } from '../../base/babies.ts';
import type { Guard } from '../live/guard.ts';
import { postJson, type Refused, useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { isHostComputer } from '../parts/host-computer.ts';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { Unanswered } from '../parts/unanswered.tsx';
import { StudiesLink } from '../study/studies-link.tsx';
import { ForgetBaby } from './forget-baby.tsx';
import { KEPT_WORDS } from './kept-words.ts';

interface Done {
  name: string;
  answer: ForgottenAnswer;
}

export function KeptPage({ guard }: { guard: Guard }) {
  const { language } = useChoices();
  const words = KEPT_WORDS[language];
  const first = useJson<KeptAnswer>('/kept');
  const [done, setDone] = useState<Done | null>(null);
  const [refused, setRefused] = useState<Refused | null>(null);
  const kept = done?.answer.kept ?? (first.state === 'here' ? first.answer : null);

  const forget = async ({ id, name }: BabyRef & { name: string }, again: string) => {
    setRefused(null);
    const posted = await postJson<ForgottenAnswer>('/kept/forget', { id, baby: name, again });
    if ('answer' in posted) setDone({ name, answer: posted.answer });
    else setRefused(posted.error);
  };

  return (
    <ReadingPage title={words.title} page="kept" guard={guard}>
      <Unanswered of={first} />
      {kept && (
        <>
          <p>{words.where(kept.folder)}</p>
          <h2>{words.takeTitle}</h2>
          <p>{words.take}</p>
          <a class="button" href="/kept/ebbline.jsonl" download="ebbline.jsonl">
            {words.takeLink}
          </a>
          <p class="soft">{words.takeMore}</p>
          <h2>{words.babies}</h2>
          <div role="status">{done && <DoneNote done={done} />}</div>
          {refused && <RefusedNotice error={refused} />}
          {kept.babies.length === 0 && <p>{words.none}</p>}
          {kept.babies.map(({ id, name, feeds, handFeeds }) => (
            <section key={id ?? name} class="kept-baby">
              <p>{words.baby(name, feeds, handFeeds)}</p>
              {isHostComputer() && (
                <ForgetBaby name={name} onForget={(again) => forget({ id, name }, again)} />
              )}
            </section>
          ))}
          {!isHostComputer() && <p>{words.notHere}</p>}
          <p class="soft">{words.elsewhere}</p>
          <StudiesLink />
        </>
      )}
    </ReadingPage>
  );
}

function DoneNote({ done: { name, answer } }: { done: Done }) {
  const words = KEPT_WORDS[useChoices().language];
  return (
    <p>
      <strong>{words.done(name, answer.feeds)}</strong>{' '}
      {answer.mentions > 0 && words.mentions(answer.mentions)}{' '}
      {answer.unreachable.length > 0 && words.unreachable(answer.unreachable.join(', '))}
    </p>
  );
}
