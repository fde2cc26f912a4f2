/** The grid on which a rate is believed: ln(the baby's mL/h ÷ the curve's at that age). */
export const GRID_STEP = 0.04;
const GRID_HALF = 1.6;
export const POINTS = Math.round((2 * GRID_HALF) / GRID_STEP) + 1;
export const GRID: readonly number[] = Array.from({ length: POINTS }, (_, i) => i * GRID_STEP - GRID_HALF);
