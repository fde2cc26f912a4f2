/** The two sheets for whoever feeds the baby: as PDF, or as a page to print. */
import { useState } from 'preact/hooks';
import type { SheetName } from '../../app/packing/packing-answers.ts';
import { LANGUAGES } from '../../pacing/cues/words.ts';
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { TEXTS } from '../words/texts.ts';
import type { PackingWords } from './words.ts';

export interface PrintLinksProps {
  words: PackingWords;
  answer: PackingAnswer;
  baby: string | null;
  /** A person to call was entered. */
  hasCall: boolean;
}

export function PrintLinks({ words, answer, baby, hasCall }: PrintLinksProps) {
  const page = useChoices();
  // Whoever feeds the baby may read another language than the person who packs.
  const [language, setLanguage] = useState(page.language);
  const { day, from, until, birthDay } = answer.ask;
  const query = new URLSearchParams({ language, day, from, until, birthDay, feeds: String(answer.feeds) });
  if (baby !== null) query.set('baby', baby);
  const sheets: [SheetName, string][] = [['day-sheet', words.daySheet]];
  if (hasCall) sheets.unshift(['feeding-plan', words.feedingPlan]);
  return (
    <section aria-labelledby="print-heading" class="print">
      <h2 id="print-heading">{words.print}</h2>
      <OneOf
        name="sheet-language"
        label={words.sheetLanguage}
        choices={LANGUAGES.map((value) => ({ value, text: TEXTS[value].languageName }))}
        value={language}
        onChoose={setLanguage}
      />
      {!hasCall && <p class="soft">{words.callFirst}</p>}
      {sheets.map(([name, text]) => (
        <p key={name} class="saves">
          <span>{text}</span>
          {(['pdf', 'html'] as const).map((ending) => (
            <a
              key={ending}
              class="button"
              href={`/packing/${name}.${ending}?${query}`}
              target="_blank"
              rel="noopener"
              aria-label={`${text}, ${ending === 'pdf' ? words.asPdf : words.asPage}`}
            >
              {ending === 'pdf' ? words.asPdf : words.asPage}
            </a>
          ))}
        </p>
      ))}
    </section>
  );
}
