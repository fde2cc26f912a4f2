import { describe, expect, it } from 'vitest';
import { SHOWN_CUES } from '../../src/pacing/cues/shown-cues.ts';
import { LANGUAGES, WORDS, type WordKey } from '../../src/pacing/cues/words.ts';

const KEYS: WordKey[] = [
  ...SHOWN_CUES,
  'gentle',
  'held-steeply',
  'cannot-tell',
  'no-guidance',
  'guidance-off',
  'cues-withheld',
  'waiting',
];

/** All texts below a table, flat. */
function texts(part: unknown): string[] {
  if (typeof part === 'string') return [part];
  return Object.values(part as object).flatMap(texts);
}

describe.each(LANGUAGES)('the words in %s', (language) => {
  const words = WORDS[language];

  it('are there for everything that can be shown, none of them empty', () => {
    expect(Object.keys(words.shown).sort()).toEqual([...KEYS].sort());
    for (const text of texts(words)) expect(text.trim()).not.toBe('');
  });

  it('are short enough for one glance', () => {
    for (const key of KEYS) {
      expect(words.shown[key].glance.split(' ').length, key).toBeLessThanOrEqual(4);
      expect(words.shown[key].say.length, key).toBeLessThanOrEqual(80);
    }
  });

  it('name no amount, nothing left, no praise, no breast, no teat', () => {
    for (const text of texts(words.shown)) {
      expect(text).not.toMatch(
        /\d|ounce|onza|\boz\b|\bmL\b|\bleft\b|remain|almost|queda|restante|good job|well done|bravo|breast|pecho|teat/i,
      );
    }
  });

  it('are data that JSON carries whole', () => {
    expect(JSON.parse(JSON.stringify(words))).toEqual(words);
  });
});

describe('the words that must not be misread', () => {
  it('"too fast" says which end goes down and that the nipple stays in', () => {
    expect(WORDS.en.shown['tilt-down'].say).toBe(
      'Lower your hand: bottom of the bottle down, nipple stays in.',
    );
    expect(WORDS.es.shown['tilt-down'].say).toMatch(/base del biberón hacia abajo.*tetina/);
    expect(WORDS.es.shown.waiting.more).toMatch(/biberón \(mamadera, tetero\).*tetina \(chupón, chupo\)/);
    for (const language of LANGUAGES) {
      expect(texts(WORDS[language].shown['tilt-down']).join(' ')).not.toMatch(/tip|tilt|incline/i);
    }
  });

  it('"had enough?" asks for the signs of fullness that the CDC names', () => {
    expect(WORDS.en.shown['offer-stop'].say).toMatch(/mouth closed.*turned away.*hands open/i);
    expect(WORDS.es.shown['offer-stop'].say).toMatch(/boca cerrada.*cabeza.*manos abiertas/i);
    expect(WORDS.en.shown['offer-stop'].more).toMatch(/does not need to finish.*clinician/i);
  });

  it('the card of stress signs says stop, sit up, when to call for help, and that the sleeve does not watch', () => {
    const { stressCard, caution } = WORDS.en;
    expect(stressCard.title).toMatch(/stop/i);
    expect(stressCard.signs).toHaveLength(8);
    expect(stressCard.act.join(' ')).toMatch(/sit baby up/i);
    expect(stressCard.emergency).toMatch(/blue lips or not breathing.*emergency/i);
    expect(stressCard.notWatched).toMatch(/does not watch/);
    expect(caution).toMatch(/not a medical device, not an alarm.*clinician/);
    expect(WORDS.es.stressCard.signs).toHaveLength(8);
  });
});
