/** What may follow a feed, in its usual order; one touch records a step, another removes it. */
import { useState } from 'preact/hooks';
import type { AfterAnswer } from '../../app/review/review-answers.ts';
import { mlFromFlOz } from '../../base/units.ts';
import type { AfterStep } from '../../feed/record/written-by-hand.ts';
import { timeText } from '../feeds/days.ts';
import { useChoices } from '../parts/choices.tsx';
import { useMay } from '../parts/right.tsx';
import type { PutBeside } from './after-page.tsx';
import { AFTER_WORDS } from './words.ts';

const STEPS: readonly AfterStep[] = ['burp', 'upright', 'comfort-suck', 'waited', 'a-little-more'];
const HALF_OUNCE_ML = mlFromFlOz(0.5);

export function AfterSteps({ after, onPut }: { after: AfterAnswer; onPut: PutBeside }) {
  const { language, volume } = useChoices();
  const words = AFTER_WORDS[language];
  const isOwner = useMay()('owner');
  const [busy, setBusy] = useState<AfterStep | null>(null);
  const touch = async (step: AfterStep) => {
    // A second touch before the first is answered would record it twice.
    if (busy !== null) return;
    setBusy(step);
    await onPut([{ kind: 'after', step, done: after.done[step] === undefined }]);
    setBusy(null);
  };
  return (
    <section class="after-steps" aria-labelledby="after-steps">
      <h2 id="after-steps">{words.steps}</h2>
      {isOwner && <p class="soft">{words.stepsSay}</p>}
      <ol>
        {STEPS.map((step) => {
          const atMs = after.done[step];
          const { name, how } = words.step[step];
          return (
            <li key={step}>
              <button
                type="button"
                aria-pressed={atMs !== undefined}
                aria-describedby={`${step}-how`}
                disabled={!isOwner}
                onClick={() => touch(step)}
              >
                <span>{name}</span>
                {atMs !== undefined && (
                  <span class="noted">
                    <span aria-hidden="true">✓</span>{' '}
                    {words.doneAt(timeText(atMs, { language, zone: after.zone }))}
                  </span>
                )}
              </button>
              <p class="soft" id={`${step}-how`}>
                {how(volume(HALF_OUNCE_ML))}
              </p>
            </li>
          );
        })}
      </ol>
      <details>
        <summary>{words.sources}</summary>
        <p class="soft small">{words.from}</p>
      </details>
    </section>
  );
}
