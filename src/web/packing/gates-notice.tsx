/** For which babies the plan does not apply, and whom to ask. */
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import type { PackingWords } from './words.ts';

export function GatesNotice({ words, answer }: { words: PackingWords; answer: PackingAnswer }) {
  if (answer.gates.length === 0) return null;
  return (
    <div class="gates">
      {answer.gates.map((gate) => (
        <p key={gate} class="note">
          {words.gates[gate]}
        </p>
      ))}
      {!answer.mayClaim && <p class="note">{words.noClaim}</p>}
    </div>
  );
}
