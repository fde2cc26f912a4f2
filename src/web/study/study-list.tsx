/** Studies with the way to each, and those that cannot be read. */
import type { StudyList } from '../../app/study/page/study-answers.ts';
import { useChoices } from '../parts/choices.tsx';
import { addressOf } from '../parts/route.ts';
import { STUDY_WORDS } from './study-words.ts';

export function ListedStudies({ list: { studies, setAside } }: { list: StudyList }) {
  const words = STUDY_WORDS[useChoices().language];
  return (
    <>
      {studies.map(({ code, title, participants, sessions, isClosed }) => (
        <section key={code}>
          <p>
            {code}, {isClosed ? words.closed : words.open}: {words.counts(participants, sessions)}
          </p>
          <a class="button" href={addressOf({ page: 'study', code })}>
            {title}
          </a>
        </section>
      ))}
      {setAside.map(({ code, why }) => (
        <p key={code}>{words.unreadable[why](code)}</p>
      ))}
    </>
  );
}

export const isNone = ({ studies, setAside }: StudyList): boolean => studies.length + setAside.length === 0;
