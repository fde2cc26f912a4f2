/** The true bottle of the simulation. Axes as in the sleeve contract, section 1. */

/** [z, inner radius] of the milk space, mm. */
export type ProfilePoint = readonly [zMm: number, radiusMm: number];

export interface BottleShape {
  /** Base to neck; straight walls between the points. */
  readonly innerProfileMm: readonly ProfilePoint[];
  /** Inner cup plus empty bottle with its teat. */
  readonly emptyMassGrams: number;
  readonly emptyCentreZMm: number;
  /** Radius of gyration about a crosswise axis through the centre, mm. */
  readonly emptyGyrationMm: number;
  /** Mass of the inner cup alone, which the cells still carry while the bottle is out of the sleeve. */
  readonly cupMassGrams: number;
  readonly cupCentreZMm: number;
  readonly cupGyrationMm: number;
  readonly teatTipZMm: number;
}

/** @returns radius of gyration of a thin-walled tube, mm: √(R²/2 + L²/12) (handbook). */
const tubeGyrationMm = (radiusMm: number, lengthMm: number): number =>
  Math.sqrt(radiusMm ** 2 / 2 + lengthMm ** 2 / 12);

/** An invented wide-necked bottle of about 270 mL (9 fl oz), the size of the example in the sleeve contract, section 4. */
export const DEFAULT_BOTTLE: BottleShape = {
  innerProfileMm: [
    [10, 24],
    [14, 28.5],
    [60, 28.2],
    [105, 27.3],
    [118, 22],
    [128, 19],
  ],
  emptyMassGrams: 168,
  emptyCentreZMm: 78,
  emptyGyrationMm: tubeGyrationMm(30, 140),
  cupMassGrams: 62,
  cupCentreZMm: 55,
  cupGyrationMm: tubeGyrationMm(32, 100),
  teatTipZMm: 172,
};

/** @returns inner radius at `zMm`, mm; 0 outside the profile. */
export function innerRadiusMm(profile: readonly ProfilePoint[], zMm: number): number {
  for (let i = 1; i < profile.length; i++) {
    const [z0, r0] = profile[i - 1]!;
    const [z1, r1] = profile[i]!;
    if (zMm >= z0 && zMm <= z1) return r0 + ((r1 - r0) * (zMm - z0)) / (z1 - z0);
  }
  return 0;
}
