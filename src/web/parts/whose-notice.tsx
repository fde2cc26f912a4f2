/** Feeds whose baby is not certain: asked on the pages that leave them out, answered by one touch. */
import { useState } from 'preact/hooks';
import type { OpenFeeds } from '../../app/review/review-answers.ts';
import { keyOf } from '../../base/babies.ts';
import type { Language } from '../../pacing/cues/words.ts';
import { postJson, type Refused, useJson } from './ask.ts';
import { babyText, bornText } from './baby-choices.ts';
import { useChoices } from './choices.tsx';
import { RefusedNotice } from './refused-notice.tsx';
import { useMay } from './right.tsx';

interface WhoseWords {
  onlyName: (count: number, name: string) => string;
  fromElsewhere: (count: number, name: string) => string;
  another: string;
}

const WORDS: Record<Language, WhoseWords> = {
  en: {
    onlyName: (count, name) =>
      count === 1
        ? `1 feed says only the name ${name}. It is in no list or plan until you say whose it is.`
        : `${count} feeds say only the name ${name}. They are in no list or plan until you say whose they are.`,
    fromElsewhere: (count, name) =>
      `${count === 1 ? '1 feed' : `${count} feeds`} of ${name} came from another computer. Whose?`,
    another: 'Another baby',
  },
  es: {
    onlyName: (count, name) =>
      count === 1
        ? `1 toma solo dice el nombre ${name}. No está en ninguna lista ni plan hasta que diga de quién es.`
        : `${count} tomas solo dicen el nombre ${name}. No están en ninguna lista ni plan hasta que diga de quién son.`,
    fromElsewhere: (count, name) =>
      `${count === 1 ? '1 toma' : `${count} tomas`} de ${name} ${count === 1 ? 'vino' : 'vinieron'} de otra computadora. ¿De quién?`,
    another: 'Otro bebé',
  },
};

export function WhoseNotice() {
  const answer = useJson<OpenFeeds[]>('/whose');
  const isOwner = useMay()('owner');
  if (answer.state !== 'here' || !isOwner) return null;
  return (
    <>
      {answer.answer.map((feeds) => (
        <Whose key={feeds.key} feeds={feeds} />
      ))}
    </>
  );
}

function Whose({ feeds }: { feeds: OpenFeeds }) {
  const { language } = useChoices();
  const words = WORDS[language];
  const [refused, setRefused] = useState<Refused | null>(null);
  const { key, name, count, isFromElsewhere, choices } = feeds;
  const say = async (baby: string | null) => {
    const error = await sent({ feeds: key, baby });
    // The page was made without these feeds.
    if (error === null) location.reload();
    else setRefused(error);
  };
  return (
    <section class="note" aria-label={name}>
      <p>{isFromElsewhere ? words.fromElsewhere(count, name) : words.onlyName(count, name)}</p>
      <p>
        {choices.map((baby) => (
          <button type="button" key={keyOf(baby)} onClick={() => say(baby.id)}>
            {babyText(baby, choices, language)}
            {baby.birthDay !== null && choices.length === 1 && `, ${bornText(baby.birthDay, language)}`}
          </button>
        ))}
        <button type="button" onClick={() => say(null)}>
          {words.another}
        </button>
      </p>
      {refused && <RefusedNotice error={refused} />}
    </section>
  );
}

async function sent(body: { feeds: string; baby: string | null }): Promise<Refused | null> {
  const posted = await postJson('/whose', body);
  return 'error' in posted ? posted.error : null;
}
