import { describe, expect, it } from 'vitest';
import * as lines from '../../src/pacing/because.ts';
import { emptyBucket } from '../../src/pacing/buckets.ts';
import { settledAt } from '../../src/pacing/trail.ts';
import { BECAUSE, becauseIn } from '../../src/pacing/words-because.ts';

const pace = {
  params: { rateMlPerMin: 14, depthMl: 6, rearmShare: 0.5 },
  bucket: { ...emptyBucket(), aheadMl: 6.1, sinceMl: 14.4, sinceSec: 5 },
  settled: settledAt(0, 0),
  owed: false,
  lowestMl: 0,
};
const fading = { windowSec: 150, windowSucks: 12, earlierSucksPerMin: 38 };

const EACH: [line: string, en: string, es: string][] = [
  [
    lines.becauseTiltDown(pace, 41, false),
    '½ fl oz (14 mL) in 36 s, about 24 mL/min: ¼ fl oz (6 mL) ahead of 14 mL/min.',
    '½ fl oz (14 mL) en 36 s, unos 24 mL/min: ¼ fl oz (6 mL) por delante de 14 mL/min.',
  ],
  [
    lines.becauseTiltDown(pace, 41, true),
    '½ fl oz (14 mL) in 36 s, about 24 mL/min: ¼ fl oz (6 mL) ahead of 14 mL/min, though the estimate was poor.',
    '½ fl oz (14 mL) en 36 s, unos 24 mL/min: ¼ fl oz (6 mL) por delante de 14 mL/min, aunque la estimación era mala.',
  ],
  [
    lines.becauseBurp(15.2, 2.05, 2),
    '½ fl oz (15 mL) since the last burp or burp cue; 2.0 s without a suck.',
    '½ fl oz (15 mL) desde el último eructo o aviso de eructo; 2.0 s sin succión.',
  ],
  [
    lines.becauseBurp(30, 0.5, 2),
    '1 fl oz (30 mL) since the last burp or burp cue; no pause came.',
    '1 fl oz (30 mL) desde el último eructo o aviso de eructo; no hubo pausa.',
  ],
  [
    lines.becauseSwitchSide(45, Number.POSITIVE_INFINITY),
    'First pause past the change-over: 1½ fl oz (45 mL) taken, no suck seen.',
    'Primera pausa pasado el momento del cambio: 1½ fl oz (45 mL) tomados, no se vio succión.',
  ],
  [
    lines.becauseSwitchSideByTime(545, 2.5),
    'First pause after 9 min 5 s on one side, 2.5 s without a suck.',
    'Primera pausa tras 9 min 5 s en un lado, 2.5 s sin succión.',
  ],
  [
    lines.becauseHalfWayBurp(3),
    'First pause past half-way, 3.0 s without a suck.',
    'Primera pausa pasada la mitad, 3.0 s sin succión.',
  ],
  [
    lines.becauseEndBurp(3),
    'The end of the feed: The nipple was offered 3 times in a row and not taken.',
    'El final de la toma: La tetina se ofreció 3 veces seguidas y no se tomó.',
  ],
  [
    lines.becauseRefused(3),
    'The nipple was offered 3 times in a row and not taken.',
    'La tetina se ofreció 3 veces seguidas y no se tomó.',
  ],
  [
    lines.becauseOfferStop(fading),
    '12 sucks in the last 2 min 30 s of nipple offered; before, about 38 a minute.',
    '12 succiones en los últimos 2 min 30 s con la tetina ofrecida; antes, unas 38 por minuto.',
  ],
  [
    lines.becauseAsleepEarly(fading, 480),
    '12 sucks in the last 2 min 30 s of nipple offered; before, about 38 a minute, 8 min into the feed.',
    '12 succiones en los últimos 2 min 30 s con la tetina ofrecida; antes, unas 38 por minuto; 8 min desde el inicio de la toma.',
  ],
  [lines.becauseBreathPause(9), '9 sucks without a pause.', '9 succiones sin pausa.'],
  [
    lines.becauseLowerIsFine(139.6, 98.2),
    'Held at 140°; milk covers the hole from 98° on.',
    'Inclinado a 140°; la leche cubre el orificio desde 98°.',
  ],
  [
    lines.becauseHoleDry(-7.4),
    'The milk lies 7 mm under the hole while baby sucks.',
    'La leche queda 7 mm bajo el orificio mientras el bebé succiona.',
  ],
  [
    lines.becauseLittleComing({ activeSec: 120, sucks: 96, takenMl: 1.24 }),
    '96 sucks in 2 min of active sucking brought 1.2 mL.',
    '96 succiones en 2 min de succión activa dieron 1.2 mL.',
  ],
  [lines.becauseLongFeed(1800), '30 min since the first suck.', '30 min desde la primera succión.'],
  [
    lines.becauseAfter(60),
    'Nipple out for 60 s after "look at baby".',
    'Tetina fuera durante 60 s tras «mire al bebé».',
  ],
];

describe('why a cue came', () => {
  it.each(EACH)('%s', (line, en, es) => {
    expect(line).toBe(en);
    expect(becauseIn('en', line)).toBe(en);
    expect(becauseIn('es', line)).toBe(es);
  });

  it('is told for every pattern there is, and what no pattern fits is left as recorded', () => {
    const used = EACH.map(([line]) => becauseIn('es', line)).filter((line, i) => line !== EACH[i]![0]);
    expect(used).toHaveLength(EACH.length);
    // Three of them only stand inside another.
    expect(EACH.length).toBe(Object.keys(BECAUSE).length - 3 + 1);
    expect(becauseIn('es', 'sucking faded')).toBe('sucking faded');
  });

  it('of "enough?" names no amount', () => {
    for (const line of [lines.becauseOfferStop(fading), lines.becauseRefused(3)]) {
      expect(line).not.toMatch(/mL|oz/);
    }
  });
});
