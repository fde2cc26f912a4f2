/** Studies for a researcher: coded, with nothing else of the house. */
import type { StudyAnswer, StudyList } from '../../app/study/page/study-answers.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { addressOf, useRoute } from '../parts/route.ts';
import { Unanswered } from '../parts/unanswered.tsx';
import { isNone, ListedStudies } from '../study/study-list.tsx';
import { StudyTold } from '../study/study-told.tsx';
import { STUDY_WORDS } from '../study/study-words.ts';

export function BoardStudies() {
  const route = useRoute();
  return route.page === 'study' ? <One key={route.code} code={route.code} /> : <All />;
}

function All() {
  const { language, texts } = useChoices();
  const words = STUDY_WORDS[language];
  const answer = useJson<StudyList>('/studies');
  return (
    <div class="studies">
      <h2>{words.title}</h2>
      <Unanswered of={answer} asking={texts.live.oneMoment} />
      {answer.state === 'here' &&
        (isNone(answer.answer) ? <p>{words.noneShared}</p> : <ListedStudies list={answer.answer} />)}
    </div>
  );
}

function One({ code }: { code: string }) {
  const { language, texts } = useChoices();
  const answer = useJson<StudyAnswer>(`/studies/${encodeURIComponent(code)}`);
  return (
    <div class="studies">
      <a class="button" href={addressOf({ page: 'studies' })}>
        {STUDY_WORDS[language].title}
      </a>
      <Unanswered of={answer} asking={texts.live.oneMoment} />
      {answer.state === 'here' && (
        <>
          <h2>{answer.answer.title}</h2>
          <StudyTold study={answer.answer} isHome={false} />
        </>
      )}
    </div>
  );
}
