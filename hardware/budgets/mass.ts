/** Mass of the sleeve, from the meshes and the parts list. */

import { BOUGHT } from '../bought-parts.ts';
import { DENSITY, type HardMaterial, MAX_ADDED_MASS_GRAMS } from '../design.ts';
import { madeLines } from '../parts.ts';
import { partNamed } from '../shape/assembly.ts';
import { volumeOf } from '../shape/mesh.ts';
import type { Carried } from './holds.ts';

/** Of the sleeve as it is used with the wide bottle, its hard parts printed in one of the materials. */
export function massBudget(material: HardMaterial = 'pa12'): {
  madeGrams: number;
  boughtGrams: number;
  totalGrams: number;
  leftGrams: number;
} {
  const sum = (lines: readonly { massGrams: number }[]) =>
    lines.reduce((total, line) => total + line.massGrams, 0);
  const madeGrams = sum(madeLines(material).filter(({ part }) => part !== 'small cup'));
  const boughtGrams = sum(BOUGHT.filter(({ option }) => !option));
  const totalGrams = madeGrams + boughtGrams;
  return { madeGrams, boughtGrams, totalGrams, leftGrams: MAX_ADDED_MASS_GRAMS - totalGrams };
}

/** Inner cup with its liner, or with the small cup: what the cells carry besides the bottle. */
export function cupLoad(soft: 'liner' | 'small cup' = 'liner'): Carried {
  const parts = ['inner cup', soft].map((name) => {
    const part = partNamed(name);
    const { mm3, centre } = volumeOf(part.mesh);
    return { massGrams: (mm3 / 1000) * DENSITY[part.made!.material], z: centre[2] };
  });
  const massGrams = parts.reduce((sum, part) => sum + part.massGrams, 0);
  return { massGrams, centreZMm: parts.reduce((sum, part) => sum + part.massGrams * part.z, 0) / massGrams };
}
