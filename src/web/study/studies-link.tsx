/** Link to the studies, if there are any and this device may see them. */
import type { StudyList } from '../../app/study/page/study-answers.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { addressOf } from '../parts/route.ts';
import { STUDY_WORDS } from './study-words.ts';

export function StudiesLink() {
  const words = STUDY_WORDS[useChoices().language];
  const answer = useJson<StudyList>('/studies');
  if (answer.state !== 'here' || answer.answer.studies.length + answer.answer.setAside.length === 0)
    return null;
  return (
    <a class="button" href={addressOf({ page: 'studies' })}>
      {words.link}
    </a>
  );
}
