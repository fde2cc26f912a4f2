import { describe, expect, it } from 'vitest';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import { LANGUAGES, type Language, WORDS } from '../../src/pacing/cues/words.ts';
import { guardStep, openGuard } from '../../src/web/live/guard.ts';
import { stageWords } from '../../src/web/live/stage-words.ts';
import { TEXTS } from '../../src/web/words/texts.ts';
import { viewOf } from '../support/fake-live.ts';
import { PAGE_STATES, SHOWINGS } from '../support/page-states.ts';

const wordsFor = (view: Partial<LiveView>, language: Language = 'en') => {
  const { shown } = guardStep(openGuard(0), viewOf(view), 0);
  return stageWords(shown, WORDS[language], TEXTS[language]);
};

describe('stageWords', () => {
  it.each(LANGUAGES.flatMap((language) => SHOWINGS.map((showing) => [language, showing] as const)))(
    'in %s, %s has words and no amount, even where the reason has one',
    (language, showing) => {
      const words = wordsFor({ ...PAGE_STATES[showing], showing }, language);
      expect(words.glance).not.toBe('');
      expect(words.say).not.toBe('');
      expect(Object.values(words).join(' ')).not.toMatch(/\d+(\.\d+)?\s*(mL|fl oz|oz|%|of)/i);
    },
  );

  it('does not say the same words twice', () => {
    const words = wordsFor({ showing: 'tilt-down' });
    expect(words.glance).toBe('Lower your hand');
    expect(words.say).toMatch(/^Bottom of the bottle down/);
  });

  it('says what is the matter when it cannot tell', () => {
    expect(wordsFor({ showing: 'cannot-tell', qualityReason: 'roll' }).say).toBe(TEXTS.en.live.reasons.roll);
    expect(wordsFor({ showing: 'cannot-tell' }).say).toBe(WORDS.en.shown['cannot-tell'].say);
  });

  it.each(LANGUAGES)(
    'says in %s why nothing comes, and keeps what the program says of the port to itself',
    (language) => {
      const because = 'The port /dev/ttyUSB0 is gone.';
      const causes = ['lost', 'ended', 'silent', 'sleeve-nameless', 'other-sleeve', 'too-busy'] as const;
      const lines = causes.map((cause) => {
        const words = wordsFor({ showing: 'no-guidance', because, cause }, language);
        expect(words.more).toBe(TEXTS[language].live.causes[cause].more);
        return words.more;
      });
      expect(new Set(lines).size).toBe(causes.length);
      expect(wordsFor({ showing: 'no-guidance', because, cause: 'other-sleeve' }, language).say).toBe(
        TEXTS[language].live.causes['other-sleeve'].say,
      );
      expect(wordsFor({ showing: 'no-guidance', because }, language).more).toBe(
        WORDS[language].shown['no-guidance'].more,
      );
    },
  );

  it('tells an ended feed from one that waits', () => {
    expect(wordsFor({ showing: 'waiting', feedState: 'ended' }).glance).toBe('Feed ended');
    expect(wordsFor({ showing: 'waiting', feedState: 'none' }).glance).toBe('Ready');
  });
});
