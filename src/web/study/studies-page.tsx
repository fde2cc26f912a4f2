/** The studies on this computer. */
import type { StudyList } from '../../app/study/page/study-answers.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { Unanswered } from '../parts/unanswered.tsx';
import { isNone, ListedStudies } from './study-list.tsx';
import { STUDY_WORDS } from './study-words.ts';

export function StudiesPage({ guard }: { guard: Guard }) {
  const { language } = useChoices();
  const words = STUDY_WORDS[language];
  const answer = useJson<StudyList>('/studies');
  return (
    <ReadingPage title={words.title} page="studies" guard={guard}>
      <Unanswered of={answer} />
      {answer.state === 'here' &&
        (isNone(answer.answer) ? <p>{words.none}</p> : <ListedStudies list={answer.answer} />)}
    </ReadingPage>
  );
}
