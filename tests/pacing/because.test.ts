import { describe, expect, it } from 'vitest';
import {
  becauseAsleepEarly,
  becauseBurp,
  becauseFaded,
  becauseTiltDown,
  pauseOrNull,
} from '../../src/pacing/cues/because.ts';
import type { KeptReason, Reason } from '../../src/pacing/cues/reason.ts';
import { LANGUAGES, WORDS } from '../../src/pacing/cues/words.ts';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { emptyBucket } from '../../src/pacing/rules/buckets.ts';
import { settledAt } from '../../src/pacing/rules/recent-intake.ts';

const pace = {
  params: { rateMlPerMin: 14, depthMl: 6, rearmShare: 0.5 },
  bucket: { ...emptyBucket(), aheadMl: 6.1, sinceMl: 14.4, sinceSec: 5 },
  settled: settledAt(0, 0),
  owed: false,
  marginMl: 0,
  lowestMl: 0,
};
const fading = { windowSec: 150, windowSucks: 12, earlierSucksPerMin: 38 };

const EACH: [reason: Reason, en: string, es: string][] = [
  [
    becauseTiltDown(pace, 41, false),
    '½ fl oz (14 mL) in 36 s, about 24 mL/min: ¼ fl oz (6 mL) ahead of 14 mL/min.',
    '½ fl oz (14 mL) en 36 s, unos 24 mL/min: ¼ fl oz (6 mL) por delante de 14 mL/min.',
  ],
  [
    becauseTiltDown(pace, 41, true),
    '½ fl oz (14 mL) in 36 s, about 24 mL/min: ¼ fl oz (6 mL) ahead of 14 mL/min, though the estimate was poor.',
    '½ fl oz (14 mL) en 36 s, unos 24 mL/min: ¼ fl oz (6 mL) por delante de 14 mL/min, aunque la estimación era mala.',
  ],
  [
    becauseBurp(15.2, 2.05, 2),
    '½ fl oz (15 mL) since the last burp or burp cue; 2.0 s without a suck.',
    '½ fl oz (15 mL) desde el último eructo o aviso de eructo; 2.0 s sin succión.',
  ],
  [
    becauseBurp(30, 0.5, 2),
    '1 fl oz (30 mL) since the last burp or burp cue; no pause came.',
    '1 fl oz (30 mL) desde el último eructo o aviso de eructo; no hubo pausa.',
  ],
  [
    { rule: 'switch-side', numbers: { takenMl: 45, pauseSec: pauseOrNull(Number.POSITIVE_INFINITY) } },
    'First pause past the change-over: 1½ fl oz (45 mL) taken, no suck seen.',
    'Primera pausa pasado el momento del cambio: 1½ fl oz (45 mL) tomados, no se vio succión.',
  ],
  [
    { rule: 'switch-side-by-time', numbers: { feedSec: 545, pauseSec: 2.5 } },
    'First pause after 9 min 5 s on one side, 2.5 s without a suck.',
    'Primera pausa tras 9 min 5 s en un lado, 2.5 s sin succión.',
  ],
  [
    { rule: 'burp-half-way', numbers: { pauseSec: 3 } },
    'First pause past half-way, 3.0 s without a suck.',
    'Primera pausa pasada la mitad, 3.0 s sin succión.',
  ],
  [
    { rule: 'burp-at-the-end', numbers: { refusals: 3 } },
    'The end of the feed: The nipple was offered 3 times in a row and not taken.',
    'El final de la toma: La tetina se ofreció 3 veces seguidas y no se tomó.',
  ],
  [
    { rule: 'refused', numbers: { refusals: 3 } },
    'The nipple was offered 3 times in a row and not taken.',
    'La tetina se ofreció 3 veces seguidas y no se tomó.',
  ],
  [
    becauseFaded(fading),
    '12 sucks in the last 2 min 30 s of nipple offered; before, about 38 a minute.',
    '12 succiones en los últimos 2 min 30 s con la tetina ofrecida; antes, unas 38 por minuto.',
  ],
  [
    becauseAsleepEarly(fading, 480),
    '12 sucks in the last 2 min 30 s of nipple offered; before, about 38 a minute, 8 min into the feed.',
    '12 succiones en los últimos 2 min 30 s con la tetina ofrecida; antes, unas 38 por minuto; 8 min desde el inicio de la toma.',
  ],
  [{ rule: 'breath-pause', numbers: { sucks: 9 } }, '9 sucks without a pause.', '9 succiones sin pausa.'],
  [
    { rule: 'lower-is-fine', numbers: { tiltDeg: 140, coverTiltDeg: 98 } },
    'Held at 140°; milk covers the hole from 98° on.',
    'Inclinado a 140°; la leche cubre el orificio desde 98°.',
  ],
  [
    { rule: 'hole-dry', numbers: { depthMm: 7 } },
    'The milk lies 7 mm under the hole while baby sucks.',
    'La leche queda 7 mm bajo el orificio mientras el bebé succiona.',
  ],
  [
    { rule: 'little-coming', numbers: { activeSec: 120, sucks: 96, takenMl: 1.24 } },
    '96 sucks in 2 min of active sucking brought 1.2 mL.',
    '96 succiones en 2 min de succión activa dieron 1.2 mL.',
  ],
  [
    { rule: 'long-feed', numbers: { feedSec: 1800 } },
    '30 min since the first suck.',
    '30 min desde la primera succión.',
  ],
  [
    { rule: 'after', numbers: { outSec: 60 } },
    'Nipple out for 60 s after "look at baby".',
    'Tetina fuera durante 60 s tras «mire al bebé».',
  ],
];

describe('why a cue came', () => {
  it.each(EACH)('%j', (reason, en, es) => {
    expect(becauseText(reason, 'en')).toBe(en);
    expect(becauseText(reason, 'es')).toBe(es);
    // The same after it was stored and read.
    expect(becauseText(JSON.parse(JSON.stringify(reason)) as Reason, 'es')).toBe(es);
  });

  it('has the same numbers in each language, whatever the rule', () => {
    const slotsOf = (line: string) => (line.match(/\{[\w:]+\}/g) ?? []).sort();
    for (const language of LANGUAGES)
      for (const [rule, line] of Object.entries(WORDS[language].because))
        expect(slotsOf(line), rule).toEqual(slotsOf(WORDS.en.because[rule as Reason['rule']]));
  });

  it('by a rule that is not known here, as from a later version, is its name', () => {
    const later = { rule: 'from-later', numbers: { sucks: 3 } } as unknown as KeptReason;
    for (const language of LANGUAGES) expect(becauseText(later, language)).toBe('from-later');
  });

  it('of "enough?" names no amount', () => {
    for (const rule of ['faded', 'refused'] as const)
      for (const language of LANGUAGES) expect(WORDS[language].because[rule]).not.toMatch(/Ml\b|mL|oz/);
  });
});

describe('a sentence kept before reasons were data', () => {
  it.each(EACH)('of %j is told as before', (_reason, en, es) => {
    expect(becauseText(en, 'en')).toBe(en);
    expect(becauseText(en, 'es')).toBe(es);
  });

  it('that no pattern fits is left as recorded', () => {
    expect(becauseText('sucking faded', 'es')).toBe('sucking faded');
  });
});
