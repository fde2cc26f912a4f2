/**
 * For which babies a plan's claims hold: the published curve is about healthy babies born at term. For other babies the times of milk and
 * the baby's own past intake still hold, but the claim about running short does not. It makes no diagnosis; it says whom to ask.
 */
const GATES = ['under-six-weeks', 'born-early', 'slow-to-gain', 'ill', 'past-six-months'] as const;
export type Gate = (typeof GATES)[number];

export interface AboutBaby {
  ageDays: number;
  bornEarly: boolean;
  slowToGain: boolean;
  /** Entered on the page for that day. */
  ill: boolean;
}

const SIX_WEEKS_DAYS = 42;
/** Six months; from then on most babies also eat solids and take less milk (the curve's table is "with solids" beyond). */
const SIX_MONTHS_DAYS = 183;

export function gatesOf({ ageDays, bornEarly, slowToGain, ill }: AboutBaby): Gate[] {
  const on: Record<Gate, boolean> = {
    'under-six-weeks': ageDays < SIX_WEEKS_DAYS,
    'born-early': bornEarly,
    'slow-to-gain': slowToGain,
    ill,
    'past-six-months': ageDays >= SIX_MONTHS_DAYS,
  };
  return GATES.filter((gate) => on[gate]);
}

/** False if no chance of running short may be claimed. */
export const mayClaim = (gates: readonly Gate[]): boolean =>
  gates.every((gate) => gate === 'past-six-months');
