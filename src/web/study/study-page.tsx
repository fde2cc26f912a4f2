/** The page of one study. */
import type { StudyAnswer } from '../../app/study/page/study-answers.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { Unanswered } from '../parts/unanswered.tsx';
import { StudyTold } from './study-told.tsx';
import { STUDY_WORDS } from './study-words.ts';

export function StudyPage({ code, guard }: { code: string; guard: Guard }) {
  const { language } = useChoices();
  const answer = useJson<StudyAnswer>(`/studies/${encodeURIComponent(code)}`);
  const title = answer.state === 'here' ? answer.answer.title : STUDY_WORDS[language].title;
  return (
    <ReadingPage title={title} page="study" guard={guard} wide>
      <Unanswered of={answer} />
      {answer.state === 'here' && <StudyTold study={answer.answer} isHome />}
    </ReadingPage>
  );
}
