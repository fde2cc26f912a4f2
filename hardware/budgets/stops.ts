/** What closes the gaps of the stops while nothing falls: warmth, load, a tight hand, and how well they were set. Pure. mm. */
import { HARD_MATERIALS, type HardMaterial, PLACES, SIDE_GAP_MM, STOP_GAP_MM } from '../design.ts';
import { STOP_PIN_Z } from '../shape/cup-side.ts';
import { supportStiffnessNPerMm } from './cells.ts';
import { type Carried, cellForces, HOLDS, type Hold, MOUTHS } from './holds.ts';
import { yieldN } from './seat.ts';
import { STRAIGHT_HOLD } from './stray.ts';

/** Cup warmer than the shell by so much, K: milk of 37 °C in a shell that is held in a room of 20 °C, some of it come through. Assumption, no source. */
export const WARMER_K = 12;

/** A hand that holds firmly, N on either side of the grip: about twice what sleeve and bottle weigh over the friction of skin on plastic. Assumption, no source. */
export const SQUEEZE_N = 40;

/**
 * How far a stop pin moves against the cells' bridge under that squeeze, mm: finite elements, `npx tsx hardware/squeeze.ts`
 * (CalculiX 2.20; its ring 0.3 % beside the handbook). Glued in both bosses the pins hold the walls apart; loose they let the walls in.
 */
export const SQUEEZE_MOVES_MM: Readonly<Record<HardMaterial, { glued: SqueezeMoves; loose: SqueezeMoves }>> =
  {
    pa12: { glued: { acrossMm: 0.066, sideMm: 0 }, loose: { acrossMm: 0.21, sideMm: 0.475 } },
    asa: { glued: { acrossMm: 0.058, sideMm: 0 }, loose: { acrossMm: 0.182, sideMm: 0.412 } },
  };
export interface SqueezeMoves {
  /** Along x, towards or from the cup's feet. */
  readonly acrossMm: number;
  /** Along y, both sides inwards. */
  readonly sideMm: number;
}

/** Reamed holes, a cup set by feeler leaves: together. Assumption, no source; measure by the feeler leaf. */
export const SETTING_MM = 0.08;

/** Warmth along the bottle: from the axial strut, which holds the cup's z, to the front pin. */
export const warmthMm = (material: HardMaterial): number =>
  HARD_MATERIALS[material].growthPerK * WARMER_K * STOP_PIN_Z.front;

/** How far the cup moves at the front cell from where it was set, at the worst of all holds and mouths, mm along x and z. */
export function loadMovesMm(load: Carried, straight: Carried): { acrossMm: number; alongMm: number } {
  const k = supportStiffnessNPerMm();
  const set = cellForces(straight, STRAIGHT_HOLD);
  let [acrossMm, alongMm] = [0, 0];
  for (const hold of HOLDS)
    for (const { mouth } of MOUTHS) {
      const now = cellForces(load, hold, mouth);
      acrossMm = Math.max(acrossMm, Math.abs(now.frontN - set.frontN) / k);
      alongMm = Math.max(alongMm, Math.abs(now.axialN - set.axialN) / k);
    }
  return { acrossMm, alongMm };
}

export interface StopRoom {
  readonly acrossMm: number;
  readonly alongMm: number;
  /** What is left of the gap round the front pin, all at once and at their worst. */
  readonly leftMm: number;
  readonly sideLeftMm: number;
}

export function stopRoom(
  load: Carried,
  straight: Carried,
  material: HardMaterial,
  pins: 'glued' | 'loose' = 'glued',
): StopRoom {
  const moves = loadMovesMm(load, straight);
  const hand = SQUEEZE_MOVES_MM[material][pins];
  const acrossMm = moves.acrossMm + hand.acrossMm;
  const alongMm = moves.alongMm + warmthMm(material);
  return {
    acrossMm,
    alongMm,
    leftMm: STOP_GAP_MM - SETTING_MM - Math.hypot(acrossMm, alongMm),
    sideLeftMm: SIDE_GAP_MM - SETTING_MM - hand.sideMm,
  };
}

/**
 * Load away from the axis of a cell: a push on the tip of the nipple, across. Force at which the front cell's seat gives way, N; beyond it
 * the stops carry what is more.
 */
export function tipYieldsN(load: Carried, tipZMm: number): number {
  const level: Hold = { name: 'level', tiltDeg: 90, rollDeg: 0 };
  const atRest = cellForces(load, level).frontN;
  const perN = (tipZMm - PLACES.rearZMm) / (PLACES.frontZMm - PLACES.rearZMm);
  return (yieldN('push') - atRest) / perN;
}
