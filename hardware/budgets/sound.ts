/**
 * How loud the buzzer's notes may be at the baby's ear, by its data sheet: that gives a least level at the buzzer's own
 * frequency and rated voltage, and nothing is taken off for the lower note, the resistor or the housing. Pure.
 * dB and dBA re 20 µPa, cm, s.
 */

/** A passive buzzer of this kind. Mallory Sonalert AST7525MATRQ, sales outline drawing: at least 85 dB at 10 cm, rated voltage, 2700 Hz. */
export const BUZZER = { levelDb: 85, atCm: 10, resonanceHz: 2700 } as const;

/** The longest of the notes (src/feed/live/light-language.ts): two tones; two sounds are never closer than the gap. */
export const NOTES = { tones: 2, toneSec: 0.18, gapSec: 10 } as const;
/** Cues of a feed that runs fast, and two such feeds in an hour are many: common practice, no source. */
export const SOUNDS_AN_HOUR = 16;

/**
 * Of a nursery for newborns: mean over an hour, and the loudest second. dBA.
 * Source: Philbin MK, Robertson A, Hall JW. 1999. J Perinatol 19:559-563.
 */
export const NURSERY = { hourDba: 50, loudestSecondDba: 70 } as const;

/** Distances from the buzzer's opening to the baby's ear, cm. */
export const EAR_CM = [10, 15] as const;

/** A-weighting, dB. Source: IEC 61672-1, its formula (constants from memory); 0 at 1000 Hz. */
export function aWeightingDb(frequencyHz: number): number {
  const square = frequencyHz ** 2;
  const response =
    (12194 ** 2 * square ** 2) /
    ((square + 20.6 ** 2) * Math.sqrt((square + 107.7 ** 2) * (square + 737.9 ** 2)) * (square + 12194 ** 2));
  return 20 * Math.log10(response) + 2.0;
}

/** While a tone sounds; a small source in the open loses 6 dB for each doubling of the distance. */
export const toneDba = (earCm: number): number =>
  BUZZER.levelDb + aWeightingDb(BUZZER.resonanceHz) - 20 * Math.log10(earCm / BUZZER.atCm);

const soundSec = NOTES.tones * NOTES.toneSec;

/** Mean level over the second that holds both tones. */
export const loudestSecondDba = (earCm: number): number => toneDba(earCm) + 10 * Math.log10(soundSec);

/** Mean level over an hour with so many sounds, from the buzzer alone. */
export const hourDba = (earCm: number, sounds: number): number =>
  toneDba(earCm) + 10 * Math.log10((sounds * soundSec) / 3600);

/** As many sounds as the gap between them allows. */
export const MOST_SOUNDS_AN_HOUR = 3600 / NOTES.gapSec;

/** What must be taken off at the nearest ear so that even a single tone stays under the hour's guideline, dB. */
export const toTakeOffDb = (): number => toneDba(EAR_CM[0]) - NURSERY.hourDba;
