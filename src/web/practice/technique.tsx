/** How a feed was given, in a few friendly lines. */
import type { TechniqueLines } from '../../app/practice/practice-answers.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { PRACTICE_WORDS } from './practice-words.ts';

export function Technique({ lines }: { lines: TechniqueLines }) {
  const { language } = useChoices();
  return (
    <ul class="technique">
      {(lines[language] ?? []).map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

/** For the practice feed that has just ended. */
export function OwnTechnique({ feedId }: { feedId: string }) {
  const { language } = useChoices();
  const answer = useJson<TechniqueLines>(`/practice/technique/${encodeURIComponent(feedId)}`);
  return (
    <section>
      <h2>{PRACTICE_WORDS[language].own}</h2>
      {answer.state === 'refused' && <RefusedNotice error={answer.error} />}
      {answer.state === 'here' && <Technique lines={answer.answer} />}
    </section>
  );
}
