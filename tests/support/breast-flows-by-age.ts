/**
 * Feeds at the breast drawn by age. Sources, and how much of each was read:
 *
 * Kent et al. 2013, Breastfeed Med 8:401 (secondary): sessions of 106, 126, 126 mL in 36, 29, 23 min at 1, 3, 6 months.
 * Kent et al. 2006, Pediatrics 117:e387 (abstract): single feeds of 76.0 ± 12.6 g, 1-6 months; their 16 min (5-37), and sessions of 55-234 mL in
 *   12-67 min, from a summary of the same data (secondary).
 * Ramsay et al. 2004, Pediatrics 113:361 (abstract): 2.5 milk ejections a feed. Gardner et al. 2015, BMC Pregnancy Childbirth 15:156 (abstract): one
 *   lasts 45 s to 3.5 min. Idei et al. 2024, Midwifery (abstract), while PUMPING: high flow holds 82.5 % (69.9-89.5) of the milk, gaps 221 s (68-371).
 * Spread of a session, not published with the means: as in Howie 1981 (29 % of the milk, 18 % of the time), within the published ranges.
 */
import type { Flow } from './breast-flows.ts';
import type { Draws } from './distributions.ts';

export type AgeMonths = 1 | 3 | 6;

/** Session means. */
export const SESSIONS: Record<AgeMonths, { ml: number; minutes: number }> = {
  1: { ml: 106, minutes: 36 },
  3: { ml: 126, minutes: 29 },
  6: { ml: 126, minutes: 23 },
};

function drawSession(draws: Draws, age: AgeMonths): { ml: number; minutes: number } {
  const mean = SESSIONS[age];
  return {
    ml: draws.normal(mean.ml, mean.ml * 0.29, 55, 234),
    minutes: draws.normal(mean.minutes, mean.minutes * 0.18, 12, 67),
  };
}

/** A constant flow from beginning to end, since nothing more was published. */
export function drawEvenSession(draws: Draws, age: AgeMonths): Flow {
  const { ml, minutes } = drawSession(draws, age);
  return [
    [0, 0],
    [minutes, ml],
  ];
}

/** Two sides, each with one let-down as on day 6: 50 % by 2 min, 85 % by 4 min (Lucas 1980), the rest evenly. Assumed to hold at every age. */
export function drawTwoLetDowns(draws: Draws, age: AgeMonths): Flow {
  const { ml, minutes } = drawSession(draws, age);
  const half = minutes / 2;
  // The let-downs of a short session take at most a third of each side's time.
  const scale = Math.min(1, half / 3 / 4);
  return [0, 1].flatMap((side) =>
    [
      [0, 0],
      [2 * scale, 0.5],
      [4 * scale, 0.85],
      [half, 1],
    ].map(([minute, share]) => [side * half + minute!, ((side + share!) * ml) / 2] as [number, number]),
  );
}

/** One side, two milk ejections a single feed; how much of the milk they hold, and the gap, are figures of pumping. */
export function drawTwoEjections(draws: Draws): Flow {
  const ml = draws.normal(76, 12.6, 20, 240) / 1.03;
  const share = draws.uniform(0.699, 0.895);
  const lengths = [draws.uniform(0.75, 3.5), draws.uniform(0.75, 3.5)] as const;
  const gap = draws.uniform(68, 371) / 60;
  const total = Math.max(draws.normal(16, 16 * 0.18, 5, 37), lengths[0] + gap + lengths[1] + 0.5);
  const slowMl = ml * (1 - share);
  const slowMin = total - lengths[0] - lengths[1];
  const inGap = (slowMl * gap) / slowMin;
  const perEjection = (ml * share) / 2;
  return [
    [0, 0],
    [lengths[0], perEjection],
    [lengths[0] + gap, perEjection + inGap],
    [lengths[0] + gap + lengths[1], 2 * perEjection + inGap],
    [total, ml],
  ];
}
