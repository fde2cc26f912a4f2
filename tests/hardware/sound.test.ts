import { describe, expect, it } from 'vitest';
import {
  aWeightingDb,
  hourDba,
  loudestSecondDba,
  NOTES,
  NURSERY,
  SOUNDS_AN_HOUR,
  toneDba,
  toTakeOffDb,
} from '../../hardware/budgets/sound.ts';
import { notesFor, SOUND_GAP_SEC } from '../../src/feed/live/light-language.ts';
import { SHOWINGS } from '../support/page-states.ts';

describe('A-weighting', () => {
  // IEC 61672-1, table of design goals at its exact frequencies (31.5 Hz stands for 31.62); widely printed, from memory.
  it.each([
    [31.62, -39.4],
    [125, -16.1],
    [250, -8.6],
    [500, -3.2],
    [1000, 0],
    [2000, 1.2],
    [4000, 1.0],
    [8000, -1.1],
  ])('at %d Hz is %d dB', (frequencyHz, expectedDb) => {
    expect(Math.abs(aWeightingDb(frequencyHz) - expectedDb)).toBeLessThan(0.1);
  });
});

describe('the notes', () => {
  it('are those of the light and sound language: low, two at most, none longer', () => {
    for (const showing of SHOWINGS) {
      const notes = notesFor(showing);
      if (!notes) continue;
      expect(notes.frequencyHz).toBeLessThanOrEqual(440);
      expect(notes.repeats).toBeLessThanOrEqual(NOTES.tones);
      expect(notes.onMs / 1000).toBeLessThanOrEqual(NOTES.toneSec);
      // Both tones and their pause fit into the second that is counted.
      expect(notes.repeats * (notes.onMs + notes.offMs)).toBeLessThanOrEqual(1000);
    }
    expect(NOTES.gapSec).toBe(SOUND_GAP_SEC);
  });

  it('fall by 6.02 dB for twice the distance, and by 10 dB for a tenth of the sounds', () => {
    expect(toneDba(10) - toneDba(20)).toBeCloseTo(6.02, 2);
    expect(hourDba(10, 100) - hourDba(10, 10)).toBeCloseTo(10, 10);
  });

  // Worked by hand: 85 dB + 1.27 dB of A-weighting at 2700 Hz; 0.36 s of a second are −4.44 dB, 16 × 0.36 s of an hour −27.96 dB.
  it('come to 86 dBA at 10 cm, 82 in the loudest second, 58 over a busy hour by the data sheet: above the guideline, as the page says', () => {
    expect(toneDba(10)).toBeCloseTo(86.27, 1);
    expect(loudestSecondDba(10)).toBeCloseTo(81.83, 1);
    expect(hourDba(10, SOUNDS_AN_HOUR)).toBeCloseTo(58.3, 1);
    expect(loudestSecondDba(15)).toBeGreaterThan(NURSERY.loudestSecondDba);
    expect(toTakeOffDb()).toBeCloseTo(36.3, 1);
  });
});
