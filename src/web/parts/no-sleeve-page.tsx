/** Says that no sleeve is attached, and links to all stored data. */
import type { Language } from '../../pacing/cues/words.ts';
import type { Guard } from '../live/guard.ts';
import { useChoices } from './choices.tsx';
import { ReadingPage } from './reading-page.tsx';
import { LanguageChoice, PageLinks, UnitChoice } from './ways.tsx';

const WORDS: Record<Language, { title: string; say: string; simulated: string }> = {
  en: {
    title: 'No sleeve is attached',
    say: 'All that is kept is here: feeds, days, bottles to pack, milk. To feed with the sleeve, start Ebbline with it.',
    simulated: 'These are feeds of a simulated sleeve, not of a baby.',
  },
  es: {
    title: 'No hay ninguna funda conectada',
    say: 'Aquí está todo lo guardado: tomas, días, biberones para llevar, leche. Para alimentar con la funda, inicie Ebbline con ella.',
    simulated: 'Son tomas de una funda simulada, no de un bebé.',
  },
};

export function NoSleevePage({ guard }: { guard: Guard }) {
  const words = WORDS[useChoices().language];
  return (
    <ReadingPage title={words.title} page="live" guard={guard}>
      {guard.view?.simulated && <p class="simulated">{words.simulated}</p>}
      <p>{words.say}</p>
      <PageLinks />
      <LanguageChoice />
      <UnitChoice />
    </ReadingPage>
  );
}
