/** Links to the other pages, and the choice of language and unit for all of them. */
import { useId } from 'preact/hooks';
import { LANGUAGES } from '../../pacing/cues/words.ts';
import { TEXTS } from '../words/texts.ts';
import { UNIT_SIGN, useChoices, VOLUME_UNITS } from './choices.tsx';
import { isHostComputer } from './host-computer.ts';
import { choicesOf, OneOf } from './one-of.tsx';
import { useMay } from './right.tsx';
import { addressOf, type Route } from './route.ts';

export function PageLinks() {
  const { texts } = useChoices();
  const isOwner = useMay()('owner');
  const all: [Exclude<Route, { page: 'feed' }>, string, isOwners?: 'owners'][] = [
    [{ page: 'before' }, texts.go.before, 'owners'],
    [{ page: 'feeds' }, texts.go.feeds],
    [{ page: 'practice' }, texts.go.practice],
    [{ page: 'packing' }, texts.go.packing, 'owners'],
    [{ page: 'milk' }, texts.go.milk],
    [{ page: 'kept' }, texts.go.kept, 'owners'],
    [{ page: 'numbers' }, texts.go.numbers],
  ];
  const links = all.filter(([, , isOwners]) => isOwner || !isOwners);
  if (isHostComputer()) links.push([{ page: 'sharing' }, texts.go.sharing]);
  return (
    <nav class="page-links" aria-label={texts.touch.more}>
      {links.map(([route, text]) => (
        <a key={route.page} href={addressOf(route)}>
          {text}
        </a>
      ))}
    </nav>
  );
}

export function LanguageChoice() {
  const { texts, language, setLanguage } = useChoices();
  return (
    <OneOf
      name={useId()}
      label={texts.go.language}
      choices={LANGUAGES.map((value) => ({ value, text: TEXTS[value].languageName }))}
      value={language}
      onChoose={setLanguage}
    />
  );
}

export function UnitChoice() {
  const { texts, unit, setUnit } = useChoices();
  return (
    <OneOf
      name={useId()}
      label={texts.go.unit}
      choices={choicesOf(VOLUME_UNITS, UNIT_SIGN)}
      value={unit}
      onChoose={setUnit}
    />
  );
}
