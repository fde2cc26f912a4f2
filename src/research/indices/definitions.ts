import { keysOf } from '../../base/typed.ts';
/**
 * Indices of nutritive sucking: what each means, its formula, its unit, who defined it, and what this sleeve needs to measure it.
 * Sources were seen as abstracts unless said otherwise; where no source is named the definition is our own.
 * Pressures, swallows and breaths are not here: load cells cannot see them.
 */

/** What an index needs; if it is not available, the index is missing with that reason. */
export type Need = 'intake' | 'portion' | 'sucks' | 'bursts' | 'pauses' | 'five-minutes' | 'good-flow';

export interface IndexDefinition {
  label: string;
  unit: 'mL' | 'mL/min' | '%' | '1' | '1/min' | 's' | 'min';
  definition: string;
  formula: string;
  source: string;
  needs: readonly Need[];
}

const LAU_SMITH = 'Lau and Smith 2011, Neonatology 100:64-70, doi 10.1159/000321987 (abstract)';
const MEDOFF_COOPER = 'Medoff-Cooper 2002, J Dev Behav Pediatr 23:231-236 (abstract)';
const QURESHI = 'Qureshi et al. 2002, Dev Med Child Neurol 44:34-39 (abstract)';
const SUCKING_TIME =
  '1991, Dev Med Child Neurol 33:891-897, doi 10.1111/j.1469-8749.1991.tb14798.x (abstract)';
const OWN = 'our own definition';

export const INDICES = {
  intakeMl: {
    label: 'Milk taken',
    unit: 'mL',
    definition: 'Milk that left the bottle with the nipple in the mouth, spilt milk not counted.',
    formula: 'V = intake(t_end)',
    source: OWN,
    needs: ['intake'],
  },
  durationMin: {
    label: 'Length of the feed',
    unit: 'min',
    definition: 'From the first latch to the last moment with the nipple in the mouth, pauses included.',
    formula: 'T = t_end - t_latch',
    source: OWN,
    needs: [],
  },
  transferRateMlPerMin: {
    label: 'Rate of milk transfer',
    unit: 'mL/min',
    definition: 'Milk taken a minute over the whole feed, pauses included.',
    formula: 'V / T',
    source: LAU_SMITH,
    needs: ['intake'],
  },
  proficiencyPercent: {
    label: 'Proficiency',
    unit: '%',
    definition: 'Share of the planned portion that was taken in the first five minutes.',
    formula: '100 * intake(t_latch + 5 min) / portion',
    source: LAU_SMITH,
    needs: ['intake', 'portion', 'five-minutes'],
  },
  overallTransferPercent: {
    label: 'Overall transfer',
    unit: '%',
    definition:
      'Share of the planned portion that was taken in the feed. No target: babies stop when they have had enough.',
    formula: '100 * V / portion',
    source: LAU_SMITH,
    needs: ['intake', 'portion'],
  },
  suckCount: {
    label: 'Sucks',
    unit: '1',
    definition: 'Nutritive sucks in the feed.',
    formula: 'N',
    source: MEDOFF_COOPER,
    needs: ['sucks'],
  },
  suckRatePerMin: {
    label: 'Suck rate within bursts',
    unit: '1/min',
    definition: 'Sucks a minute while the baby sucks: from the time between sucks of one burst.',
    formula: '60 / mean(intervals within bursts)',
    source: `${MEDOFF_COOPER}; ${QURESHI}`,
    needs: ['sucks', 'bursts'],
  },
  burstCount: {
    label: 'Bursts',
    unit: '1',
    definition: 'Runs of at least two sucks, none later than 2.5 s after the one before.',
    formula: 'B',
    source: `${MEDOFF_COOPER}; the 2.5 s are common practice, no source`,
    needs: ['sucks'],
  },
  sucksPerBurst: {
    label: 'Sucks per burst',
    unit: '1',
    definition: 'Mean number of sucks in a burst.',
    formula: 'mean(n_b)',
    source: MEDOFF_COOPER,
    needs: ['sucks', 'bursts'],
  },
  burstLengthSec: {
    label: 'Length of a burst',
    unit: 's',
    definition: 'Mean time from the start of a burst’s first suck to the start of its last.',
    formula: 'mean(t_last - t_first)',
    source: MEDOFF_COOPER,
    needs: ['sucks', 'bursts'],
  },
  pauseLengthSec: {
    label: 'Length of a pause',
    unit: 's',
    definition:
      'Mean time from the last suck of a burst to the first of the next, the nipple in the mouth throughout.',
    formula: 'mean(t_first(b + 1) - t_last(b))',
    source: MEDOFF_COOPER,
    needs: ['sucks', 'pauses'],
  },
  volumePerSuckMl: {
    label: 'Milk per suck',
    unit: 'mL',
    definition: 'Average over the feed; single sucks cannot be told by weight.',
    formula: 'V / N',
    source: 'Jain et al. 1987, J Pediatr (abstract; authors from memory)',
    needs: ['intake', 'sucks'],
  },
  suckingSharePercent: {
    label: 'Share of time sucking',
    unit: '%',
    definition: 'Time within bursts as a share of the feed.',
    formula: '100 * sum(t_last - t_first) / T',
    source: SUCKING_TIME,
    needs: ['sucks', 'bursts'],
  },
  flowWhileSuckingMlPerMin: {
    label: 'Milk per minute of sucking',
    unit: 'mL/min',
    definition: 'Milk taken over the time within bursts.',
    formula: 'V / sum(t_last - t_first)',
    source: SUCKING_TIME,
    needs: ['intake', 'sucks', 'bursts'],
  },
  flowMedianMlPerMin: {
    label: 'Flow, median',
    unit: 'mL/min',
    definition: 'Median over time of the flow of 10 s, the nipple in the mouth.',
    formula: 'P50(6 * (intake(t + 5 s) - intake(t - 5 s)))',
    source: OWN,
    needs: ['good-flow'],
  },
  flowP90MlPerMin: {
    label: 'Flow, 90th percentile',
    unit: 'mL/min',
    definition: '90th percentile over time of the flow of 10 s, the nipple in the mouth.',
    formula: 'P90(6 * (intake(t + 5 s) - intake(t - 5 s)))',
    source: OWN,
    needs: ['good-flow'],
  },
  timeToHalfMin: {
    label: 'Time to half',
    unit: 'min',
    definition: 'Time from the latch until half of what was taken had been taken.',
    formula: 'min t: intake(t) >= V / 2',
    source: 'after Lucas, Lucas and Baum 1981, Early Hum Dev 5:195-199 (abstract)',
    needs: ['intake'],
  },
  timeTo80PercentMin: {
    label: 'Time to 80 %',
    unit: 'min',
    definition: 'Time from the latch until 80 % of what was taken had been taken.',
    formula: 'min t: intake(t) >= 0.8 V',
    source: 'after Lucas, Lucas and Baum 1981, Early Hum Dev 5:195-199 (abstract)',
    needs: ['intake'],
  },
  highFlowPeriods: {
    label: 'High-flow periods',
    unit: '1',
    definition:
      'Stretches of at least 10 s in which the flow of 10 s is 6 mL/min or more. In bottles a gentle pace may be one long stretch.',
    formula: 'count of runs with F(t) >= 6 mL/min',
    source:
      'limit of 0.1 g/s from Idei et al. 2024, Midwifery, doi 10.1016/j.midw.2024.104039 (abstract; of pumping)',
    needs: ['good-flow'],
  },
  leakageMl: {
    label: 'Leakage',
    unit: 'mL',
    definition: 'Milk that left the bottle and not into the mouth, where the weight shows it.',
    formula: 'sum of spills',
    source: OWN,
    needs: ['intake'],
  },
} as const satisfies Record<string, IndexDefinition>;

export type IndexKey = keyof typeof INDICES;
export const INDEX_KEYS = keysOf(INDICES);
