/** The studies on this computer. */
import type { StudyList } from '../../app/study/page/study-answers.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { addressOf } from '../parts/route.ts';
import { STUDY_WORDS } from './study-words.ts';

export function StudiesPage({ guard }: { guard: Guard }) {
  const { language, texts } = useChoices();
  const words = STUDY_WORDS[language];
  const answer = useJson<StudyList>('/studies');
  return (
    <ReadingPage title={words.title} page="studies" guard={guard}>
      {answer.state === 'asking' && <p class="soft">{texts.feeds.asking}</p>}
      {answer.state === 'refused' && <RefusedNotice error={answer.error} />}
      {answer.state === 'here' && answer.answer.studies.length + answer.answer.setAside.length === 0 && (
        <p>{words.none}</p>
      )}
      {answer.state === 'here' &&
        answer.answer.studies.map(({ code, title, participants, sessions, isClosed }) => (
          <section key={code}>
            <p>
              {code}, {isClosed ? words.closed : words.open}: {words.counts(participants, sessions)}
            </p>
            <a class="button" href={addressOf({ page: 'study', code })}>
              {title}
            </a>
          </section>
        ))}
      {answer.state === 'here' &&
        answer.answer.setAside.map(({ code, why }) => <p key={code}>{words.unreadable[why](code)}</p>)}
    </ReadingPage>
  );
}
