/** Published milk taken over time, as points for comparison. The straight lines between the points are our own. */

export interface PublishedCurve {
  /** Its name and its assumptions are given in the figures. */
  name: 'breast-two-sides' | 'breast-even' | 'bottle-as-wanted';
  /** Minutes since the start, and milk taken until then, mL. */
  points: readonly (readonly [min: number, ml: number])[];
  source: string;
}

const HOWIE_ML = 70.9 / 1.03;
const LUCAS_BREAST_ML = 75;
const LUCAS_BOTTLE_ML = 67;
/** Of one breast: share of its milk by minute. */
const EMPTYING = [
  [0, 0],
  [2, 0.5],
  [4, 0.85],
] as const;
const SECOND_BREAST_MIN = 15;
const END_MIN = 25;

const half = (fromMin: number, beforeMl: number) =>
  EMPTYING.map(([min, share]) => [fromMin + min, beforeMl + (share * LUCAS_BREAST_ML) / 2] as const);

export const PUBLISHED_CURVES: readonly PublishedCurve[] = [
  {
    name: 'breast-two-sides',
    points: [...half(0, 0), ...half(SECOND_BREAST_MIN, LUCAS_BREAST_ML / 2), [END_MIN, LUCAS_BREAST_ML]],
    source:
      'Lucas, Lucas and Baum 1981, Early Hum Dev 5:195-199, doi 10.1016/0378-3782(81)90052-9; 1980, Pediatr Res 14:179, doi 10.1203/00006450-198002000-00115',
  },
  {
    name: 'breast-even',
    points: [
      [0, 0],
      [17.3, HOWIE_ML],
    ],
    source: 'Howie, Houston, Cook et al. 1981, Early Hum Dev 5:71-77',
  },
  {
    name: 'bottle-as-wanted',
    points: [
      [0, 0],
      [10, 0.81 * LUCAS_BOTTLE_ML],
      [END_MIN, LUCAS_BOTTLE_ML],
    ],
    source: 'Lucas, Lucas and Baum 1981, Early Hum Dev 5:195-199, doi 10.1016/0378-3782(81)90052-9',
  },
];
