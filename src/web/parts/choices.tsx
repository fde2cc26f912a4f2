/** Language and volume unit: chosen once, used by all pages. */
import { type ComponentChildren, createContext } from 'preact';
import { useContext, useEffect } from 'preact/hooks';
import { flOzFromMl, type VolumeUnit, volumeText } from '../../base/units.ts';
import { LANGUAGES, type Language, WORDS, type Words } from '../../pacing/cues/words.ts';
import { TEXTS, type Texts } from '../words/texts.ts';
import { useBrowserChoice } from './browser-choice.ts';

export const VOLUME_UNITS = ['fl-oz', 'ml'] as const satisfies readonly VolumeUnit[];
export const UNIT_SIGN: Record<VolumeUnit, string> = { 'fl-oz': 'fl oz', ml: 'mL' };

export interface Choices {
  language: Language;
  setLanguage: (language: Language) => void;
  unit: VolumeUnit;
  setUnit: (unit: VolumeUnit) => void;
  texts: Texts;
  words: Words;
  /** A volume for people, the chosen unit first. */
  volume: (ml: number) => string;
}

const ChoicesContext = createContext<Choices | null>(null);

export function useChoices(): Choices {
  const choices = useContext(ChoicesContext);
  if (!choices) throw new Error('no choices around this part of the page');
  return choices;
}

const deviceLanguage = (): Language =>
  LANGUAGES.find((language) => navigator.language.toLowerCase().startsWith(language)) ?? 'en';

export function ChoicesAround({ children }: { children: ComponentChildren }) {
  const [language, setLanguage] = useBrowserChoice('ebbline.language', LANGUAGES, deviceLanguage());
  const [unit, setUnit] = useBrowserChoice('ebbline.volume-unit', VOLUME_UNITS, 'fl-oz');
  useEffect(() => {
    document.documentElement.lang = language;
  }, [language]);
  const choices: Choices = {
    language,
    setLanguage,
    unit,
    setUnit,
    texts: TEXTS[language],
    words: WORDS[language],
    // Below an eighth of an ounce no quarter ounce is close, so only milliliters are shown.
    volume: (ml) => (flOzFromMl(ml) < 1 / 8 ? `${Math.round(ml)} mL` : volumeText(ml, unit)),
  };
  return <ChoicesContext.Provider value={choices}>{children}</ChoicesContext.Provider>;
}
