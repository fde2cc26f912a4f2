import { describe, expect, it } from 'vitest';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { BARE_GUIDANCE } from '../../src/pacing/index.ts';
import { type Away, inputsOf, pace } from '../support/pacing-inputs.ts';
import { type Suck, steadySucks } from '../support/suck-trains.ts';

/** 4 minutes of sucking at 5 mL/min, then offers of `offeredSec`, 15 s apart, until `endSec`. */
function offers(count: number, offeredSec: number, sucksInOffer: (offer: number) => number) {
  const sucks: Suck[] = steadySucks(5, 0, 240);
  const away: Away[] = [];
  let atSec = 242;
  for (let offer = 0; offer < count; offer += 1) {
    away.push({ fromSec: atSec, toSec: atSec + 15, tiltDeg: 70 });
    atSec += 15;
    const many = sucksInOffer(offer);
    if (many > 0) sucks.push(...steadySucks(10, atSec + 1, atSec + 1 + many - 0.01));
    atSec += Math.max(offeredSec, many + 2);
  }
  away.push({ fromSec: atSec, toSec: atSec + 60, tiltDeg: 70 });
  return { sucks, away, endSec: atSec + 60 };
}
const stops = (plan: ReturnType<typeof offers>) =>
  pace(inputsOf(plan)).cues.filter((cue) => cue.kind === 'offer-stop');

describe('three refusals in a row (stop rule of Ventura et al., Childhood Obesity, abstract)', () => {
  it('ask to look at baby, once', () => {
    const cues = stops(offers(4, 8, () => 0));
    expect(cues).toHaveLength(1);
    expect(becauseText(cues[0]!.because, 'en')).toBe(
      'The nipple was offered 3 times in a row and not taken.',
    );
    // The end of the third offer: 242 + 3 × 23 s, and a moment to be sure.
    expect(cues[0]!.atSec).toBeCloseTo(242 + 69 + 1.5, 0);
  });

  it('two are not enough, nor are three with a taken one between', () => {
    expect(stops(offers(2, 8, () => 0))).toEqual([]);
    expect(stops(offers(5, 8, (offer) => (offer === 2 ? 10 : 0)))).toEqual([]);
  });

  it('a long offer is no refusal: the fading rule judges it', () => {
    expect(stops(offers(3, 25, () => 0))).toEqual([]);
  });

  it('a nipple that only touches the lips is neither offer nor refusal', () => {
    const plan = offers(0, 0, () => 0);
    const bounces = Array.from({ length: 10 }, (_, i) => ({
      fromSec: 243 + i,
      toSec: 243.6 + i,
      tiltDeg: 90,
    }));
    expect(stops({ ...plan, away: [...bounces, { fromSec: 255, toSec: 300, tiltDeg: 90 }] })).toEqual([]);
  });

  it('burps with short sips between are no refusals: milk came', () => {
    expect(stops(offers(6, 8, () => 5))).toEqual([]);
  });

  it('brings the last burp where burps are half-way and at the end', () => {
    const guidance = { ...BARE_GUIDANCE, burp: 'half-way-and-end', usualFeedMl: 200 } as const;
    const { cues } = pace(inputsOf(offers(4, 8, () => 0)), null, { guidance });
    expect(cues.map((cue) => cue.kind)).toEqual(['offer-stop', 'burp']);
  });
});
