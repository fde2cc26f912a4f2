/** All parts of the sleeve, ready to print, weigh and draw. */

import { stopGapMm } from '../budgets/cells.ts';
import { BOTTLE, DENSITY } from '../design.ts';
import { bottleSolid, innerCup, liner, links, struts } from './cup-side.ts';
import { fittings } from './fittings.ts';
import { type Mesh, meshOf, volumeOf } from './mesh.ts';
import { batteryDoor, endCap, gripCover, lightDisc, pane, shell } from './shell-side.ts';
import type { Solid } from './solids.ts';

/** Which side of the cells a part is on. `between`: strut or link, the only things that join the two. */
export type Side = 'cup' | 'shell' | 'between';

export interface Part {
  readonly name: string;
  readonly side: Side;
  readonly mesh: Mesh;
  /** Printed or cut by the maker; else bought. */
  readonly made: { readonly material: keyof typeof DENSITY } | null;
  /** For made parts, from volume and density. */
  readonly massGrams: number;
}

type Entry = [name: string, side: Side, material: keyof typeof DENSITY | null, solid: () => Solid];

function entries(): Entry[] {
  return [
    ['inner cup', 'cup', 'pa12', () => innerCup(stopGapMm())],
    ['liner', 'cup', 'tpu', liner],
    ['shell', 'shell', 'pa12', shell],
    ['grip cover', 'shell', 'pa12', gripCover],
    ['battery door', 'shell', 'pa12', batteryDoor],
    ['end cap', 'shell', 'pa12', endCap],
    ['light disc', 'shell', 'tpu', lightDisc],
    ['window pane', 'shell', 'petFilm', pane],
    ...fittings().map(({ name, solid }): Entry => [name, 'shell', null, () => solid]),
    ...struts().map(
      (solid, i): Entry => [`${['axial', 'front', 'rear'][i]} strut`, 'between', null, () => solid],
    ),
    ...links().map(
      (solid, i): Entry => [`${['front', 'upper rear', 'lower rear'][i]} link`, 'between', null, () => solid],
    ),
    ['bottle', 'cup', null, () => bottleSolid(BOTTLE)],
  ];
}

let built: readonly Part[] | undefined;

/** Builds all parts (a second or two), once. */
export function sleeveParts(): readonly Part[] {
  built ??= entries().map(([name, side, material, solid]) => {
    const mesh = meshOf(solid());
    const massGrams = material ? (volumeOf(mesh).mm3 / 1000) * DENSITY[material] : 0;
    return { name, side, mesh, made: material ? { material } : null, massGrams };
  });
  return built;
}

/** Parts that the maker prints or cuts, each a file of its own. */
export const madeParts = (): readonly Part[] => sleeveParts().filter((part) => part.made !== null);

/** @throws RangeError when there is no part of that name */
export function partNamed(name: string): Part {
  const part = sleeveParts().find((each) => each.name === name);
  if (!part) throw new RangeError(`No part of the sleeve is named ${name}.`);
  return part;
}
