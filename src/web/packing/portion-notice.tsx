/** How much the baby takes, the evidence for it, and every assumption with its source. */
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import { useChoices } from '../parts/choices.tsx';
import { rangeText } from './format.ts';
import { sourceText } from './sources-es.ts';
import type { PackingWords } from './words.ts';

export function PortionNotice({ words, answer }: { words: PackingWords; answer: PackingAnswer }) {
  const { unit, volume, language } = useChoices();
  const { portion, size, feedsLeftOut } = answer;
  const range = ({ lowMl, highMl }: { lowMl: number; highMl: number }): string =>
    rangeText(lowMl, highMl, unit);
  return (
    <section aria-labelledby="portion-heading" class="portion-note">
      <h2 id="portion-heading">{words.portion}</h2>
      <p>
        {words.perFeed(range(portion.perFeed))} {words.total(range(portion.total))}
      </p>
      {(answer.mayClaim || size.because !== 'less') && <p>{words.size(size, volume(size.sizeMl))}</p>}
      <p class="soft">{words.basis(answer)}</p>
      {answer.sameHours && <p class="soft">{words.sameHours}</p>}
      <p class="soft">{words.seen(answer.seen)}</p>
      {answer.record.days > 0 && (
        <p>
          {words.record(
            answer.record,
            volume(answer.record.realisedThrownMl),
            volume(answer.record.promisedThrownMl),
          )}
        </p>
      )}
      {portion.outsidePublished && <p class="soft">{words.outside}</p>}
      {feedsLeftOut > 0 && <p class="note">{words.leftOut(feedsLeftOut)}</p>}
      <details>
        <summary>{words.why}</summary>
        <ul class="plain-list">
          {answer.assumptions.map(({ id, source }) => (
            <li key={id}>
              {words.assumptions[id](answer)}{' '}
              <small class="soft">
                {words.source}: {sourceText(source, language)}.
              </small>
            </li>
          ))}
        </ul>
      </details>
    </section>
  );
}
