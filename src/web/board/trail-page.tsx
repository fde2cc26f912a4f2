/** Who looked at and changed what, for those who lead. */
import type { TrailAnswer } from '../../app/ward/ward-answers.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { RefusedNote } from '../parts/refused-note.tsx';
import { instantHere } from './times.ts';
import { WARD_WORDS } from './ward-words.ts';

export function TrailPage() {
  const { language, texts } = useChoices();
  const own = WARD_WORDS[language];
  const answer = useJson<TrailAnswer>('/trail');
  return (
    <div class="handover">
      <h2>{own.trail}</h2>
      {answer.state === 'asking' && <p>{texts.live.oneMoment}</p>}
      {answer.state === 'refused' && <RefusedNote error={answer.error} />}
      {answer.state === 'here' && (
        <>
          <p role="status">{answer.answer.broken === null ? own.whole : own.broken(answer.answer.broken)}</p>
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls sideways must be reached by keys. */}
          <section class="wide" tabIndex={0} aria-label={own.trail}>
            <table>
              <thead>
                <tr>
                  {own.trailColumns.map((column) => (
                    <th key={column} scope="col">
                      {column}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {answer.answer.lines.map(({ no, atMs, person, role, act, babyId, more }) => (
                  <tr key={no}>
                    <td>{instantHere(atMs, language)}</td>
                    <td>{person}</td>
                    <td>{role}</td>
                    <td>{act}</td>
                    <td>{babyId}</td>
                    <td>{more}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
        </>
      )}
    </div>
  );
}
