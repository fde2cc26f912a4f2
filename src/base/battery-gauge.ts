/**
 * How full the sleeve's battery is, from the voltage of its cell under load, and the running time that is left: a table
 * of millivolts with linear interpolation. Pure. Units: mV, mA, mAh, minutes.
 */

/**
 * Millivolts of a resting lithium-ion cell (cobalt, 4.20 V) by state of charge, %. Usual curve, from memory; a given cell may differ
 * by some 20 mV. The first measurements on a built sleeve record its own curve.
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

/** Current that the sleeve draws, and the charge that a 400 mAh cell still gives after a year; from the power budget (hardware/budgets/power.ts). */
export const IN_USE = { loadMa: 99.4, usableMah: 320 } as const;

/** The one warning comes this long before the end, minutes. */
export const WARN_MIN = 30;

/** @returns state of charge, %, of a cell that shows `millivolts` while it gives `loadMa` */
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

/** Inverse of `percentFull`: millivolts under load. */
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

/** Outside this range no lithium-ion cell is connected: the sleeve runs from a bench supply, or the measuring wire is missing. */
const CELL_MILLIVOLTS = { least: 2500, greatest: 4350 } as const;

export interface BatteryGauge {
  /** Lowest value so far, %: in use it never rises. Null: not known. */
  readonly percent: number | null;
}

export const GAUGE_START: BatteryGauge = { percent: null };

/** A reading of the cell in use. */
export function stepGauge(gauge: BatteryGauge, millivolts: number): BatteryGauge {
  if (millivolts < CELL_MILLIVOLTS.least || millivolts > CELL_MILLIVOLTS.greatest) return gauge;
  return { percent: Math.min(gauge.percent ?? 100, percentFull(millivolts)) };
}

/** Rounded for display: in steps of ten above 20 %, since the curve is flat there; of five below. */
export function shownPercent({ percent }: BatteryGauge): number | null {
  if (percent === null) return null;
  const step = percent > 20 ? 10 : 5;
  return step * Math.round(percent / step);
}

/** The end is less than half an hour away. */
export const isEndNear = ({ percent }: BatteryGauge): boolean =>
  percent !== null && minutesLeft(percent) <= WARN_MIN;
