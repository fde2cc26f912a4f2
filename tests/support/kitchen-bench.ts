/**
 * A nipple emptied at a kitchen table, by Torricelli's law: water in a cylinder tilted 30° down, refilled to a mark for each
 * trial, caught in a cup on a scale, started and stopped by hand.
 */
import type { Random } from '../../src/base/random.ts';

export interface Kitchen {
  /** Suction, mmHg; 0 if the milk runs by itself. */
  suctionMmHg?: number;
  /**
   * Scatter of one nipple from trial to trial. Published for nipples of one kind, one trial each: 0.03 at least (Pados, Park and
   * Dodrill 2019, abstract); this includes the scatter of a single nipple, which is therefore no larger.
   */
  trialCv?: number;
  stepGrams?: number;
  keptOn?: boolean;
  trials?: number;
}

const HEAD_MM = 50;
const MARK_MM = 0.58;
const HAND_SEC = 0.3;
const LAST_DROP_ML = 0.05;
const WATER_G_PER_ML = 0.998;
/** Surface of a cylinder of 50 mm tilted 30° down: π · 25² ÷ sin 30°, in mL per mm. */
const ML_PER_MM = (Math.PI * 25 ** 2) / 0.5 / 1000;
const MM_PER_MMHG = 13.6 / WATER_G_PER_ML;

/** Milliliters that run out while the level falls. @param mlPerMin flow at the start from the stated height */
function runsOut(mlPerMin: number, sec: number, headMm: number, suctionMm: number): number {
  let ml = 0;
  for (let at = 0; at < sec; at += 0.5) {
    const drive = (headMm - ml / ML_PER_MM + suctionMm) / (HEAD_MM + suctionMm);
    ml += mlPerMin * Math.sqrt(Math.max(0, drive)) * (Math.min(0.5, sec - at) / 60);
  }
  return ml;
}

/** @returns passport data for three minutes by the clock, and the true flow: what runs out in a minute from the stated height */
export function kitchenBench(random: Random, aboutMlPerMin: number, kitchen: Kitchen) {
  const { suctionMmHg = 0, trialCv = 0.03, stepGrams = 1, keptOn = true, trials = 3 } = kitchen;
  const suctionMm = suctionMmHg * MM_PER_MMHG;
  const markMm = HEAD_MM + MARK_MM * random.normal();
  const durationSec = 180 / trials;
  const rounded = (grams: number): number =>
    stepGrams === 0 ? grams : stepGrams * Math.round(grams / stepGrams);
  let grams = 0;
  let shownBefore = 0;
  const volumesMl = Array.from({ length: trials }, () => {
    const sec = durationSec + HAND_SEC * (random.normal() - random.normal());
    const rate = aboutMlPerMin * (1 + trialCv * random.normal());
    const ml = runsOut(rate, sec, markMm + MARK_MM * random.normal(), suctionMm);
    const caught = WATER_G_PER_ML * Math.max(0, ml + LAST_DROP_ML * random.normal());
    grams += caught;
    const shown = keptOn ? rounded(grams) : rounded(caught);
    const volumeMl = (keptOn ? shown - shownBefore : shown) / WATER_G_PER_ML;
    shownBefore = shown;
    return volumeMl;
  });
  return {
    trueMlPerMin: runsOut(aboutMlPerMin, 60, HEAD_MM, suctionMm),
    data: {
      version: 1,
      teat: 'simulated',
      liquid: 'water',
      suction: suctionMmHg === 0 ? 'free' : { mmHg: suctionMmHg },
      tiltDeg: 30,
      headMm: HEAD_MM,
      atMs: 0,
      scale: { stepGrams, keptOn },
      trials: volumesMl.map((volumeMl) => ({ volumeMl, durationSec })),
    },
  };
}
