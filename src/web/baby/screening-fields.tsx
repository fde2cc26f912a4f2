/** The screening questions, asked once for each baby; their consequence is shown at once. */
import type { ScreeningAnswers, ScreeningQuestion } from '../../pacing/screening.ts';
import type { Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { troubleAt } from './draft.ts';
import { Trouble } from './field.tsx';
import type { BabyWords } from './words.ts';

export interface ScreeningFieldsProps {
  words: BabyWords;
  questions: readonly ScreeningQuestion[];
  answers: ScreeningAnswers;
  refused: Refused | null;
  onChange: (answers: ScreeningAnswers) => void;
}

export function ScreeningFields({ words, questions, answers, refused, onChange }: ScreeningFieldsProps) {
  const { language, words: cueWords } = useChoices();
  return (
    <section>
      <h2>{words.screening}</h2>
      <p>{cueWords.screening.intro}</p>
      <div class="questions">
        {questions.map(({ id, ask }) => (
          <div key={id}>
            <OneOf
              name={`ask-${id}`}
              label={ask[language]}
              choices={[
                { value: 'no', text: words.no },
                { value: 'yes', text: words.yes },
              ]}
              value={answers[id] === undefined ? null : answers[id] ? 'yes' : 'no'}
              onChoose={(value) => onChange({ ...answers, [id]: value === 'yes' })}
            />
            <Trouble id={`ask-${id}-trouble`}>{troubleAt(refused, `answers.${id}`, words)}</Trouble>
          </div>
        ))}
      </div>
    </section>
  );
}
