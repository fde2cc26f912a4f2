/** Inner profiles: from a drawn outline, for an unknown bottle, and adjusted to measurements. */
import { PlainError } from '../../base/errors.ts';
import type { InnerProfileMm } from '../../sensing/loads/milk-centre.ts';
import { capacityMl } from '../fit/milk-in-hold.ts';

/** How a profile may differ from its outline: base and neck end moved along z (mm), radii wider by a share. */
export interface ProfileChange {
  baseShiftMm: number;
  neckShiftMm: number;
  widerShare: number;
}

/** Prior half-widths of an outline's errors: of the change, and of each point's radius. */
export interface ProfileDoubt extends ProfileChange {
  pencilMm: number;
}

/** Drawn with care along a real bottle: ends to 2 mm, radii to 2 % and each point to 0.2 mm (own assumption, no source). */
export const OUTLINE_DOUBT: ProfileDoubt = {
  baseShiftMm: 2,
  neckShiftMm: 2,
  widerShare: 0.02,
  pencilMm: 0.2,
};
/** An unknown feeding bottle that fits into the sleeve (own assumption, no source). */
export const GENERIC_DOUBT: ProfileDoubt = { baseShiftMm: 5, neckShiftMm: 20, widerShare: 0.12, pencilMm: 2 };

/** A plain feeding bottle that fits into the sleeve: a cylinder with a rounded base and a shoulder. Invented. */
export const GENERIC_PROFILE_MM: InnerProfileMm = [
  [10, 22],
  [15, 27],
  [98, 27],
  [112, 22],
  [124, 18],
];

/**
 * The lower half moves with the base end, the upper half with the neck end, and the wall between stretches: a bottle's base and
 * shoulder keep their shape when its length was misjudged.
 */
export function changedProfile(
  profile: InnerProfileMm,
  change: ProfileChange,
  pencilMm: readonly number[] = [],
): [number, number][] {
  const middle = (profile[0]![0] + profile.at(-1)![0]) / 2;
  return profile.map(([z, r], i) => [
    z + (z < middle ? change.baseShiftMm : change.neckShiftMm),
    Math.max(0, r * (1 + change.widerShare) + (pencilMm[i] ?? 0)),
  ]);
}

/**
 * Checks an outline as a person drew it: inner radius against height over the base of the bottle's place.
 * @param points [z, inner radius], mm, from base to neck
 * @throws PlainError outline-points, outline-order, outline-size
 */
export function profileFromOutline(points: readonly (readonly [number, number])[]): [number, number][] {
  const remedy = 'Give height and inner radius in millimeters, from the base up to the neck.';
  if (points.length < 3) {
    throw new PlainError(
      'outline-points',
      `The outline has ${points.length} points; at least 3 are needed.`,
      remedy,
    );
  }
  points.forEach(([z, r], i) => {
    if (!Number.isFinite(z) || !Number.isFinite(r) || r < 0) {
      throw new PlainError('outline-points', `Point ${i + 1} of the outline is not two numbers.`, remedy);
    }
    if (i > 0 && z <= points[i - 1]![0]) {
      throw new PlainError(
        'outline-order',
        `Point ${i + 1} of the outline does not lie above the one before.`,
        remedy,
      );
    }
  });
  const volume = capacityMl(points);
  if (volume < 30 || volume > 500) {
    const hint =
      volume > 500 ? 'Were diameters given in place of radii?' : 'Were centimeters or inches given?';
    throw new PlainError(
      'outline-size',
      `The outline holds ${volume.toFixed(0)} mL; a feeding bottle holds 30 to 500 mL. ${hint}`,
      remedy,
    );
  }
  return points.map(([z, r]) => [z, r]);
}
