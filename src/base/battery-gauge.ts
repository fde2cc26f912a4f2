/**
 * How full the sleeve's battery is, by the voltage of its cell in use, and how long it lasts from there: a table of
 * millivolts, straight lines in between. Pure. mV, mA, mAh, minutes.
 */

/**
 * Millivolts of a resting lithium-ion cell (cobalt, 4.20 V) by how full it is, %. Usual curve, from memory; a cell of yours differs
 * by some 20 mV: the first measurements take it down.
 */
export const RESTING_CELL: readonly (readonly [percent: number, millivolts: number])[] = [
  [100, 4190],
  [90, 4060],
  [80, 3980],
  [70, 3920],
  [60, 3870],
  [50, 3820],
  [40, 3790],
  [30, 3770],
  [20, 3740],
  [10, 3680],
  [5, 3450],
  [0, 3000],
];

/** Cell, protection board, plug, switch and wire together, ohms. From memory of such pouches. */
export const CELL_OHMS = 0.3;

/** What the sleeve takes out of its cell in use, and what a cell of 400 mAh gives after a year; by the power budget (hardware/budgets/power.ts). */
export const IN_USE = { loadMa: 99.4, usableMah: 320 } as const;

/** One warning, so long before the end, minutes. */
export const WARN_MIN = 30;

/** @returns how full a cell is, %, that shows so many millivolts while it gives so many milliamperes */
export function percentFull(millivolts: number, loadMa: number = IN_USE.loadMa): number {
  const resting = millivolts + loadMa * CELL_OHMS;
  const [top] = RESTING_CELL;
  if (resting >= top![1]) return 100;
  for (let i = 1; i < RESTING_CELL.length; i++) {
    const [[high, highMv], [low, lowMv]] = [RESTING_CELL[i - 1]!, RESTING_CELL[i]!];
    if (resting >= lowMv) return low + ((high - low) * (resting - lowMv)) / (highMv - lowMv);
  }
  return 0;
}

/** The other way: millivolts in use for a cell so full. */
export function millivoltsAt(percent: number, loadMa: number = IN_USE.loadMa): number {
  for (let i = 1; i < RESTING_CELL.length; i++) {
    const [[high, highMv], [low, lowMv]] = [RESTING_CELL[i - 1]!, RESTING_CELL[i]!];
    if (percent >= low)
      return lowMv + ((highMv - lowMv) * (percent - low)) / (high - low) - loadMa * CELL_OHMS;
  }
  return RESTING_CELL[RESTING_CELL.length - 1]![1] - loadMa * CELL_OHMS;
}

export const minutesLeft = (
  percent: number,
  loadMa: number = IN_USE.loadMa,
  usableMah: number = IN_USE.usableMah,
): number => (60 * (percent / 100) * usableMah) / loadMa;

/** Outside of these no lithium-ion cell is at the pin: a sleeve on a bench supply, or one without that wire. */
const CELL_MILLIVOLTS = { least: 2500, greatest: 4350 } as const;

export interface BatteryGauge {
  /** Least so far, %: in use it never rises. Null: not known. */
  readonly percent: number | null;
}

export const GAUGE_START: BatteryGauge = { percent: null };

/** A reading of the cell in use. */
export function stepGauge(gauge: BatteryGauge, millivolts: number): BatteryGauge {
  if (millivolts < CELL_MILLIVOLTS.least || millivolts > CELL_MILLIVOLTS.greatest) return gauge;
  return { percent: Math.min(gauge.percent ?? 100, percentFull(millivolts)) };
}

/** For people: in steps of ten above twenty, since the curve is flat there; of five below. */
export function shownPercent({ percent }: BatteryGauge): number | null {
  if (percent === null) return null;
  const step = percent > 20 ? 10 : 5;
  return step * Math.round(percent / step);
}

/** The end is less than half an hour away. */
export const isEndNear = ({ percent }: BatteryGauge): boolean =>
  percent !== null && minutesLeft(percent) <= WARN_MIN;
