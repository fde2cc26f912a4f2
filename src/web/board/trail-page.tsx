/** The audit trail (who looked at and changed what), for those who lead. */
import type { TrailAnswer } from '../../app/ward/ward-answers.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { Unanswered } from '../parts/unanswered.tsx';
import { instantHere } from './times.ts';
import { TRAIL_WORDS } from './trail-words.ts';
import { WARD_WORDS } from './ward-words.ts';
import { WideTable } from './wide-table.tsx';

export function TrailPage() {
  const { language, texts } = useChoices();
  const own = WARD_WORDS[language];
  const trail = TRAIL_WORDS[language];
  const answer = useJson<TrailAnswer>('/trail');
  return (
    <div class="handover">
      <h2>{own.trail}</h2>
      <Unanswered of={answer} asking={texts.live.oneMoment} />
      {answer.state === 'here' && (
        <>
          <p role="status">{answer.answer.broken === null ? own.whole : own.broken(answer.answer.broken)}</p>
          <WideTable
            label={own.trail}
            columns={own.trailColumns}
            rows={answer.answer.lines.map(({ atMs, person, role, act, child, more }) => [
              instantHere(atMs, language),
              person,
              trail.roles[role] ?? role,
              trail.deeds[act] ?? act,
              child,
              more,
            ])}
          />
        </>
      )}
    </div>
  );
}
