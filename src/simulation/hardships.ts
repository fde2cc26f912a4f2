/**
 * What makes a feed hard to measure, by name: overrides to lay over any scenario. An estimator that is only good
 * without them is not good. Sizes are assumptions, no source, unless `parameters.ts` names one.
 */
import { type Overrides, withOverrides } from './parameters.ts';

export const HARDSHIPS = {
  'weak sucks': { baby: { suctionForceN: 0.15 } },
  'invisible sucks': { baby: { suctionForceN: 0, suckLiftN: 0 } },
  'irregular sucks': {
    baby: { volumeScatterPerSuck: 0.35, volumeScatterPerBurst: 0.4, suckRateScatter: 0.15 },
  },
  'dry bursts': { baby: { dryBurstShare: 0.33 } },
  chewing: { baby: { chewForceN: 0.25 } },
  'wandering mouth': { baby: { offAxisMm: 2, offAlongMm: 3 } },
  'resting cloth': { leaning: { timesPerMin: 4 } },
  'leaning hand': { leaning: { timesPerMin: 4, forceN: 0.3 } },
  restless: { hand: { motionScale: 4 } },
  walking: { hand: { walkingShare: 0.5 } },
  'rolled 40°': { hand: { rollDeg: 40 } },
  'rolled 60°': { hand: { rollDeg: 60 } },
  'rolled 80°': { hand: { rollDeg: 80 } },
  'set down': { caregiver: { handlings: [{ kind: 'set-down', afterMl: 8, forSec: 60 }] } },
  'drift ×7': { sensors: { zeroDriftGramsPerSqrtMin: 0.8 } },
  creep: { sensors: { creepShare: 0.002 } },
  // A recorded bar cell showed 43.5 g a few seconds after a cup was put on and 0.65 % less 40 s later (tests/fixtures/recorded-cell.json).
  'creep as recorded': { sensors: { creepShare: -0.0065, creepTauSec: 20 } },
  'noise ×3': { sensors: { cellNoiseScale: 3, accelerometerNoiseMg: 4 } },
  glitches: { sensors: { glitchChance: 0.0002 } },
  'lossy line': { chip: { lossChance: 0.01 } },
  'clock wraps': { chip: { clockStartMicros: 2 ** 32 - 120e6 } },
  'chip resets': { chip: { resetsAtSec: [45, 240] } },
  'dead cell': { chip: { faults: [{ what: 'frontCellFault', fromSec: 40, toSec: 160 }] } },
  'stuck cell': { chip: { faults: [{ what: 'frontCellStuck', fromSec: 40, toSec: 160 }] } },
} as const satisfies Record<string, Overrides>;

export type Hardship = keyof typeof HARDSHIPS;

/** @returns several hardships at once; where two turn the same knob the later one wins. */
export function hardships(...names: Hardship[]): Overrides {
  let all: Overrides = {};
  for (const name of names) all = withOverrides(all, HARDSHIPS[name] as Overrides<Overrides>);
  return all;
}
