/** Three drawn steps before the first suck; they can be hidden for good. */
import { STEP_PICTURES } from '../drawings/steps.tsx';
import { useBrowserChoice } from '../parts/browser-choice.ts';
import { useChoices } from '../parts/choices.tsx';
import { STEPS_WORDS } from './steps-words.ts';

export function Steps() {
  const words = STEPS_WORDS[useChoices().language];
  const [shown, setShown] = useBrowserChoice('ebbline.steps', ['shown', 'away'], 'shown');
  if (shown === 'away') {
    return (
      <p>
        <button type="button" class="wordy" onClick={() => setShown('shown')}>
          {words.show}
        </button>
      </p>
    );
  }
  return (
    <section class="first-steps" aria-labelledby="first-steps">
      <h2 id="first-steps">{words.title}</h2>
      <ol>
        {words.steps.map(({ name, how }, i) => {
          const StepPicture = STEP_PICTURES[i]!;
          return (
            <li key={name}>
              <StepPicture />
              <p>
                <strong>{name}</strong> {how}
              </p>
            </li>
          );
        })}
      </ol>
      <details>
        <summary>{words.sources}</summary>
        <p class="soft small">{words.from}</p>
      </details>
      <button type="button" onClick={() => setShown('away')}>
        {words.putAway}
      </button>
    </section>
  );
}
