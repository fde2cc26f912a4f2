/** What a simulator does to the balance, as the reference filter is told it: of our own simulation, and of the second one. */
import { parametersOf, type ScenarioName } from '../../../src/simulation/scenarios.ts';
import type { World } from './reference-filter.ts';

/** Grams at the lever of 0.1 m per N·mm of couple. */
const GRAMS_PER_NMM = 1.0197;

/** The second simulator's dials of its preset `real`. */
const SECOND_WORLD: World = {
  lateSec: 0.02,
  coupleGrams: 2 * GRAMS_PER_NMM,
  coupleSec: 2,
  lineMm: -5,
  lineSdMm: 3,
  sideSdMm: 1,
  lineSec: 4,
  suckScatter: 0.15,
  burstScatter: 0.02,
};
const VARYING: Partial<World> = { suckScatter: 0.33, burstScatter: 0.4 };

/** Dials of the second simulator that a capture was made with, as far as the reference wants them; N, m, s. */
export interface Dials {
  cell_delay_ms: number;
  accelerometer_delay_ms: number;
  couple_nm: number;
  couple_sec: number;
  line_m: number;
  line_sd_m: number;
  line_side_m: number;
  line_sec: number;
}

/** @param name of the feed: how much a suck gives scatters in those named so; @param dials null: the preset's */
export function secondWorld(name: string, dials: Dials | null = null): World {
  const varying = name.includes('vary') && VARYING;
  if (dials === null) return { ...SECOND_WORLD, ...varying };
  return {
    ...SECOND_WORLD,
    lateSec: (dials.cell_delay_ms - dials.accelerometer_delay_ms) / 1000,
    coupleGrams: 1000 * dials.couple_nm * GRAMS_PER_NMM,
    coupleSec: dials.couple_sec,
    lineMm: 1000 * dials.line_m,
    lineSdMm: 1000 * dials.line_sd_m,
    sideSdMm: 1000 * dials.line_side_m,
    lineSec: dials.line_sec,
    ...varying,
  };
}

export function ownWorld(scenario: ScenarioName, seed: number): World {
  const { baby, sensors } = parametersOf({ scenario, seed });
  return {
    lateSec: (sensors.cellDelayMs - sensors.accelerometerDelayMs) / 1000,
    coupleGrams: baby.jawCoupleNmm * GRAMS_PER_NMM,
    coupleSec: baby.jawCoupleTauSec,
    lineMm: -baby.lipsBehindMm,
    lineSdMm: baby.lipsWanderMm,
    sideSdMm: baby.lipsSideMm,
    lineSec: baby.lipsTauSec,
    suckScatter: baby.volumeScatterPerSuck,
    burstScatter: baby.volumeScatterPerBurst,
  };
}
