/** Shows child, bottle and sleeve once more before they are stored together. */
import { useState } from 'preact/hooks';
import type { FeedSetup } from '../../feed/record/feed.ts';
import { send } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { sleeveName } from '../parts/sleeve-name.ts';
import { BEFORE_WORDS } from './words.ts';

export interface TogetherProps {
  setup: FeedSetup;
  /** How this sleeve is reached, as its link reports. */
  sleeve: string;
}

export function Together({ setup: { babyName, bottleName }, sleeve }: TogetherProps) {
  const { language, texts } = useChoices();
  const words = BEFORE_WORDS[language];
  const [note, setNote] = useState<string | null>(null);
  const ask = async () => {
    const refused = await send({ kind: 'which-sleeve' });
    setNote(refused ? [texts.touch.notReached, refused.message].filter(Boolean).join(' ') : words.glows);
  };
  return (
    <section class="together">
      <p>
        {words.together}{' '}
        <strong>
          {[
            babyName ?? words.noBaby,
            bottleName === null ? words.noBottle : words.bottle(bottleName),
            sleeveName(sleeve, language),
          ].join(' · ')}
        </strong>
      </p>
      <button type="button" onClick={ask}>
        {texts.touch.whichSleeve}
      </button>
      <p role="status">{note}</p>
    </section>
  );
}
