/**
 * The boards that the circuit sits on, their outsides and their places in the sleeve: a wiring plan on ready-made modules and one small
 * perforated board, chosen over a printed two-layer board because a maker can buy and renew each by itself, and because nobody has
 * laid out, built and measured a board for this sleeve. Sizes of modules are usual ones, from memory: measure yours. mm.
 */
import { CELL, MOTION_BOARD, PLACES } from '../design.ts';
import { CELL_TOP } from '../shape/cup-side.ts';
import { MOUNTS } from '../shape/shell-side.ts';
import type { Range } from '../shape/solids.ts';

export interface Module {
  /** As in `on` of the circuit's parts. */
  readonly name: string;
  readonly kind: 'ready-made' | 'perforated';
  readonly x: Range;
  readonly y: Range;
  readonly z: Range;
  readonly note: string;
}

const motionZ = PLACES.accelerometerMm[2] + MOTION_BOARD.aheadMm;
const under = CELL_TOP.transverseX - CELL.thicknessMm;

export const MODULES: readonly Module[] = [
  {
    name: 'axial converter board',
    kind: 'ready-made',
    x: [12, 28],
    y: [-12, 12],
    z: [-17.9, -14.4],
    note: 'above the axial cell; XI and RATE cut from ground',
  },
  {
    name: 'front converter board',
    kind: 'ready-made',
    x: [-16, 8],
    y: [8, 24],
    z: [-17.9, -14.4],
    note: 'right of the axial cell, seen from behind',
  },
  {
    name: 'rear converter board',
    kind: 'ready-made',
    x: [-16, 8],
    y: [-24, -8],
    z: [-17.9, -14.4],
    note: 'left of the axial cell',
  },
  {
    name: 'power board',
    kind: 'perforated',
    x: [12, 21],
    y: [-12, 12],
    z: [-22.2, -18.6],
    note: 'between end cap and axial converter; parts on one face',
  },
  {
    name: 'radio board',
    kind: 'ready-made',
    x: [-24, 3],
    y: [8.5, 21.5],
    z: [-22, -19],
    note: 'antenna end towards the grip, away from the cells’ leads',
  },
  {
    name: 'level shifter',
    kind: 'ready-made',
    x: [-3, 10],
    y: [-24, -9],
    z: [-22, -19],
    note: 'beside the buzzer',
  },
  {
    name: 'booster board',
    kind: 'ready-made',
    x: [under - 5, under - 2],
    y: [-5, 5],
    z: [-12, -3],
    note: 'in the rear of the grip',
  },
  {
    name: 'chip board',
    kind: 'ready-made',
    x: [under - 5.4, under - 1.8],
    y: [-9, 9],
    z: [PLACES.frontZMm - 38.6, PLACES.frontZMm - 4.6],
    note: 'under the front cell, parts away from it',
  },
  {
    name: 'motion board',
    kind: 'ready-made',
    x: [MOUNTS.motionShelf.x[1], MOUNTS.motionShelf.x[1] + MOTION_BOARD.thicknessMm],
    y: [-MOTION_BOARD.acrossMm / 2, MOTION_BOARD.acrossMm / 2],
    z: [motionZ - MOTION_BOARD.alongMm / 2, motionZ + MOTION_BOARD.alongMm / 2],
    note: 'on its shelf in the grip, chip towards the bottle',
  },
];

/** Places of the circuit's parts that are no board. */
export const OTHER_PLACES: readonly string[] = ['grip', 'end cap', 'axial cell', 'front cell', 'rear cell'];

export const sizeText = ({ x, y, z }: Module): string =>
  [x, y, z]
    .map(([from, to]) => to - from)
    .sort((a, b) => b - a)
    .map((mm) => String(Number(mm.toFixed(1))))
    .join(' × ');

/** @returns the boards as a Markdown table: size, place, what to know */
export function moduleTable(): string {
  const range = ([from, to]: Range) => `${from.toFixed(1)} to ${to.toFixed(1)}`;
  const rows = MODULES.map(
    (each) =>
      `| ${each.name} | ${each.kind} | ${sizeText(each)} | ${range(each.x)} | ${range(each.y)} | ${range(each.z)} | ${each.note} |`,
  );
  return [
    '| board | kind | mm | x | y | z | note |',
    '| --- | --- | --- | --- | --- | --- | --- |',
    ...rows,
  ].join('\n');
}
