/** Whether the next feed belongs to a study, and to which participant. Hidden if there is no study. */
import type { StudyChoice } from '../../app/study/study-feeds.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { BEFORE_WORDS } from './words.ts';

const NONE = '';

export function StudyField({
  setup,
  onChange,
}: {
  setup: FeedSetup;
  onChange: (part: Partial<FeedSetup>) => void;
}) {
  const { language } = useChoices();
  const words = BEFORE_WORDS[language];
  const choices = useJson<StudyChoice[]>('/study/choices');
  if (choices.state !== 'here' || choices.answer.length === 0) return null;
  const chosen = setup.study && setup.participant ? `${setup.study}/${setup.participant}` : NONE;
  const choose = (value: string) => {
    const [study, participant] = value.split('/');
    onChange(
      value === NONE ? { study: null, participant: null } : { study: study!, participant: participant! },
    );
  };
  return (
    <div class="field">
      <label for="study">{words.study}</label>
      <select id="study" value={chosen} onChange={({ currentTarget }) => choose(currentTarget.value)}>
        <option value={NONE}>{words.noStudy}</option>
        {choices.answer.map(({ study, title, participants }) => (
          <optgroup key={study} label={title}>
            {participants.map((participant) => (
              <option key={participant} value={`${study}/${participant}`}>
                {participant}
              </option>
            ))}
          </optgroup>
        ))}
      </select>
      <p class="soft hint">{words.studyHint}</p>
    </div>
  );
}
