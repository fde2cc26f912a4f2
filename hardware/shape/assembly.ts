/** All parts of the sleeve, ready to print, weigh and draw. */

import { BOTTLE, DENSITY, SMALL_BOTTLE, SMALL_CUP, STOP_GAP_MM } from '../design.ts';
import { batteryDoor, endCap, frontFilm, gripCover, lightDisc, pane } from './covers.ts';
import { bottleSolid, innerCup, liner, links, smallCup, struts } from './cup-side.ts';
import { FITTINGS } from './fittings.ts';
import { type Mesh, meshOf, volumeOf } from './mesh.ts';
import { shell } from './shell-side.ts';
import { lifted, type Solid } from './solids.ts';

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
    ['inner cup', 'cup', 'pa12', () => innerCup(STOP_GAP_MM)],
    ['liner', 'cup', 'tpu', liner],
    ['shell', 'shell', 'pa12', shell],
    ['grip cover', 'shell', 'pa12', gripCover],
    ['battery door', 'shell', 'pa12', batteryDoor],
    ['end cap', 'shell', 'pa12', endCap],
    ['light disc', 'shell', 'tpu', lightDisc],
    ['window pane', 'shell', 'petFilm', pane],
    ['front film', 'shell', 'petFilm', frontFilm],
    ...FITTINGS.map(({ name, solid }): Entry => [name, 'shell', null, solid]),
    ...struts().map(
      (solid, i): Entry => [`${['axial', 'front', 'rear'][i]} strut`, 'between', null, () => solid],
    ),
    ...['front', 'upper rear', 'lower rear'].map(
      (name, i): Entry => [`${name} link`, 'between', null, () => links()[i]!],
    ),
    ['bottle', 'cup', null, () => bottleSolid(BOTTLE)],
  ];
}

/** What goes in in place of liner and bottle. */
function smallEntries(): Entry[] {
  return [
    ['small cup', 'cup', 'tpu', smallCup],
    ['small bottle', 'cup', null, () => lifted(bottleSolid(SMALL_BOTTLE), SMALL_CUP.liftMm)],
  ];
}

const built = new Map<Entry, Part>();
const all = entries();
const small = smallEntries();

function partOf(entry: Entry): Part {
  const known = built.get(entry);
  if (known) return known;
  const [name, side, material, solid] = entry;
  const mesh = meshOf(solid());
  const massGrams = material ? (volumeOf(mesh).mm3 / 1000) * DENSITY[material] : 0;
  const part = { name, side, mesh, made: material ? { material } : null, massGrams };
  built.set(entry, part);
  return part;
}

/** All parts; the first time each is built (two seconds in all), then kept. */
export const sleeveParts = (): readonly Part[] => all.map(partOf);

/** The sleeve with the small cup and its bottle in place of liner and bottle. */
export const sleeveWithSmallCup = (): readonly Part[] => [
  ...sleeveParts().filter(({ name }) => name !== 'liner' && name !== 'bottle'),
  ...small.map(partOf),
];

/** Parts that the maker prints or cuts, each a file of its own. */
export const madeParts = (): readonly Part[] =>
  [...all, ...small].filter(([, , material]) => material !== null).map(partOf);

/** @throws RangeError when there is no part of that name */
export function partNamed(name: string): Part {
  const entry = [...all, ...small].find((each) => each[0] === name);
  if (!entry) throw new RangeError(`No part of the sleeve is named ${name}.`);
  return partOf(entry);
}
