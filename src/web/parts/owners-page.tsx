/** Shown to a device that may only watch or help, in place of a page whose actions only the owner may do. */
import type { Language } from '../../pacing/cues/words.ts';
import type { Guard } from '../live/guard.ts';
import { useChoices } from './choices.tsx';
import { ReadingPage } from './reading-page.tsx';
import { type Right, useRight } from './right.tsx';

const WORDS: Record<Language, { title: string; may: Record<'watch' | 'help', string>; more: string }> = {
  en: {
    title: 'Not on this device',
    may: {
      watch: 'This device was let in to watch: the feed, past feeds, days and the milk list.',
      help: 'This device was let in to help: burped, cues off, notes, and all there is to read.',
    },
    more: 'On the computer that runs Ebbline, “Share in the home” lets it in again with more.',
  },
  es: {
    title: 'No en este aparato',
    may: {
      watch: 'Este aparato puede mirar: la toma, las anteriores, los días y la lista de leche.',
      help: 'Este aparato puede ayudar: eructó, sin avisos, notas, y todo lo que se lee.',
    },
    more: 'En la computadora de Ebbline, «Compartir en casa» le da más permisos.',
  },
};

const isLess = (right: Right | null): right is 'watch' | 'help' => right === 'watch' || right === 'help';

export function OwnersPage({ guard }: { guard: Guard }) {
  const { language, texts } = useChoices();
  const words = WORDS[language];
  const right = useRight();
  if (!isLess(right))
    return <ReadingPage title={texts.live.oneMoment} page="live" guard={guard} children={null} />;
  return (
    <ReadingPage title={words.title} page="live" guard={guard}>
      <p>{words.may[right]}</p>
      <p>{words.more}</p>
    </ReadingPage>
  );
}
