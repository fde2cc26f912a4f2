/** The sleeve's drawings: side section with measures, end views, and a view with the parts apart. */
import { BOTTLE, CELL, PLACES, SHAPE as S, SMALL_BOTTLE, SMALL_CUP, WIRE } from '../design.ts';
import { type Part, sleeveParts, sleeveWithSmallCup } from '../shape/assembly.ts';
import { CELL_TOP, FOOT_X, FRONT_LINK, REAR_LINKS, STOP_PIN, STOP_PIN_Z } from '../shape/cup-side.ts';
import { INK, Paper } from './paper.ts';
import { sliceAtY } from './slice.ts';

/** Fill and line of each kind of part. */
export function colorsOf(part: Part): { fill: string; line: string } {
  if (part.name.endsWith('bottle')) return { fill: INK.milk, line: INK.faint };
  if (part.name === 'liner' || part.name === 'small cup') return { fill: INK.linerFill, line: INK.liner };
  if (part.side === 'cup') return { fill: INK.cupFill, line: INK.cup };
  if (part.side === 'between') return { fill: INK.cell, line: INK.cell };
  if (part.made) return { fill: INK.shellFill, line: INK.shell };
  if (part.name.endsWith('cell')) return { fill: INK.cellFill, line: INK.cell };
  if (/stop|clamps|springs/.test(part.name)) return { fill: '#c9ced3', line: INK.line };
  return { fill: INK.boardFill, line: INK.board };
}

export const mm = (value: number) => `${Number(value.toFixed(1))} mm`;

/** Cut through the middle, y = 0: z to the right, x up, as the bottle lies in a level hold. */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a drawing, line by line
export function sideSection(): string {
  const paper = new Paper(
    { left: -84, right: 200, bottom: -112, top: 80 },
    4.2,
    'Ebbline sleeve, side section',
    'Cut along the middle of the sleeve. The inner cup with bottle and liner hangs on three load cells in the shell.',
  );
  paper.text([-80, 72], 'Side section', { size: 20, bold: true });
  paper.text([-80, 66], 'cut at y = 0, level hold, grip underneath; all measures in mm', {
    color: INK.measure,
  });
  const order = (part: Part) => (part.name === 'bottle' ? 0 : part.side === 'between' ? 2 : 1);
  for (const part of [...sleeveParts()].sort((a, b) => order(a) - order(b))) {
    const { fill, line } = colorsOf(part);
    const loops = sliceAtY(part.mesh);
    paper.areas(loops, fill, line, part.side === 'between' ? 1.6 : 0.9);
  }
  // Links run across the cut: their places as rings.
  for (const [z, x] of [
    [FRONT_LINK.zMm, FRONT_LINK.xMm],
    ...REAR_LINKS.xMm.map((x) => [REAR_LINKS.zMm, x]),
  ] as [number, number][]) {
    paper.dot([z, x], 5, INK.cell);
    paper.dot([z, x], 2.6, INK.paper);
  }
  const strut = FOOT_X - WIRE.strutLengthMm / 2;
  const cellX = CELL_TOP.transverseX - CELL.thicknessMm / 2;
  const low = -79;
  paper.label('front cell', [112, -58], [PLACES.frontZMm - 14, cellX], 'start', INK.cell);
  paper.label('strut, front', [112, -47], [PLACES.frontZMm, strut - 0.2], 'start');
  paper.label('clamp: nut and head', [150, -52], [PLACES.frontZMm + 2, CELL_TOP.transverseX + 0.8], 'start');
  paper.label('springs that hold a cell down', [-36, -30], [S.capRearZ + 14, -36], 'end');
  paper.label('stop pin', [112, -40], [STOP_PIN_Z.front, STOP_PIN.xMm], 'start');
  paper.label('link (holds y), front', [112, -52.5], [FRONT_LINK.zMm, FRONT_LINK.xMm], 'start');
  paper.label('liner, lifts out by its tab', [112, 52], [S.lipZ + 0.5, S.shellOuter + 4], 'start');
  paper.label('bottle', [150, 30], [128, 15], 'start', INK.measure);
  paper.label('inner cup', [112, -33.5], [91, -(S.cupOuter - 0.5)], 'start', INK.cup);
  paper.label('window, clear pane', [46, 52], [46, S.shellOuter + 0.2], 'middle');
  paper.label('shell', [4, 52], [4, S.shellOuter - 0.5], 'middle', INK.shell);
  paper.label('light, shines back and up', [-30, 47], [S.capRearZ - 1.5, 26], 'end');
  paper.label('button', [-36, 14], [-24.4, 7], 'end');
  paper.label('axial cell', [-36, -3], [CELL_TOP.axialZ - 3, -8], 'end', INK.cell);
  paper.label('links behind the bottle', [-36, -11], [REAR_LINKS.zMm, -22], 'end');
  paper.label('rear cell', [-36, -44], [12, cellX], 'end', INK.cell);
  paper.label('switch', [-36, -50], [-23.2, S.keelX - 3], 'end');
  paper.label('battery, behind its screwed door', [12, low], [28, -56.5], 'middle');
  paper.label(
    'accelerometer and gyroscope',
    [112, -62.8],
    [PLACES.accelerometerMm[2] + 3, PLACES.accelerometerMm[0]],
    'start',
  );
  paper.label('chip board', [72, low], [72, -56.5], 'middle');
  paper.across(
    [S.capRearZ, S.shellFrontZ],
    -102,
    [S.keelX - S.keelOuter, S.keelX - S.keelOuter],
    `shell ${mm(S.shellFrontZ - S.capRearZ)}`,
  );
  paper.across(
    [PLACES.rearZMm, PLACES.frontZMm],
    -93,
    [FOOT_X - 16, FOOT_X - 16],
    `cells ${mm(PLACES.frontZMm - PLACES.rearZMm)} apart`,
  );
  paper.across(
    [PLACES.frontZMm, BOTTLE.teatTipZMm],
    -93,
    [FOOT_X - 16, -1],
    `to the tip of the nipple ${mm(BOTTLE.teatTipZMm - PLACES.frontZMm)}`,
  );
  paper.across([0, BOTTLE.teatTipZMm], 60, [BOTTLE.diameterMm / 2, 1], `bottle ${mm(BOTTLE.teatTipZMm)}`);
  paper.upright(
    [S.keelX - S.keelOuter, S.shellOuter],
    -78,
    [S.capRearZ, 0],
    mm(S.shellOuter + S.keelOuter - S.keelX),
  );
  paper.upright(
    [-BOTTLE.diameterMm / 2, BOTTLE.diameterMm / 2],
    192,
    [BOTTLE.bodyHeightMm, BOTTLE.bodyHeightMm],
    `bottle Ø ${mm(BOTTLE.diameterMm)}`,
  );
  paper.strokes(
    [
      [
        [-26, 0],
        [180, 0],
      ],
    ],
    INK.faint,
    0.7,
    [0, 0],
    '12 3 2 3',
  );
  paper.text([181, -1], 'z', { color: INK.measure });
  axes(paper, [-76, -90]);
  key(paper, [104, -69.5]);
  return paper.svg();
}

/** The same cut with the small cup and a small bottle in place of liner and bottle. */
export function smallCupSection(): string {
  const paper = new Paper(
    { left: -60, right: 180, bottom: -84, top: 66 },
    4.2,
    'Ebbline sleeve, small cup',
    'Cut along the middle: a small bottle stands raised in the small cup, which goes in in place of the liner.',
  );
  paper.text([-56, 58], 'The small cup', { size: 20, bold: true });
  paper.text([-56, 52], 'cut at y = 0; all else stays as it is; measures in mm', { color: INK.measure });
  const order = (part: Part) => (part.name.endsWith('bottle') ? 0 : part.side === 'between' ? 2 : 1);
  for (const part of [...sleeveWithSmallCup()].sort((x, y) => order(x) - order(y))) {
    const { fill, line } = colorsOf(part);
    paper.areas(sliceAtY(part.mesh), fill, line, part.side === 'between' ? 1.6 : 0.9);
  }
  const { liftMm } = SMALL_CUP;
  paper.label('small cup, lifts out by its tab', [112, 46], [S.lipZ + 0.5, S.shellOuter + 4], 'start');
  paper.label('small bottle', [140, 30], [liftMm + SMALL_BOTTLE.neckZMm + 4, 15], 'start', INK.measure);
  paper.label('inner cup', [112, -33.5], [91, -(S.cupOuter - 0.5)], 'start', INK.cup);
  paper.across([0, liftMm], -74, [-S.cupOuter, -SMALL_BOTTLE.diameterMm / 2], `raised by ${mm(liftMm)}`);
  paper.upright(
    [-SMALL_BOTTLE.diameterMm / 2, SMALL_BOTTLE.diameterMm / 2],
    172,
    [liftMm + 60, liftMm + 60],
    `Ø ${mm(SMALL_BOTTLE.diameterMm)}`,
  );
  return paper.svg();
}

/** The sleeve's axes, off to the side: z to the nipple, x away from the grip. */
function axes(paper: Paper, [z, x]: readonly [number, number]): void {
  paper.strokes(
    [
      [
        [z, x],
        [z + 16, x],
        [z + 13.5, x + 1.2],
      ],
      [
        [z + 16, x],
        [z + 13.5, x - 1.2],
      ],
    ],
    INK.measure,
    1.2,
  );
  paper.strokes(
    [
      [
        [z, x],
        [z, x + 16],
        [z - 1.2, x + 13.5],
      ],
      [
        [z, x + 16],
        [z + 1.2, x + 13.5],
      ],
    ],
    INK.measure,
    1.2,
  );
  paper.dot([z, x], 2.6, INK.measure);
  paper.text([z + 17.5, x - 1], 'z, to the nipple', { color: INK.measure });
  paper.text([z - 1, x + 18], 'x, away from the grip', { color: INK.measure });
  paper.text([z + 1.5, x - 5], 'y, towards the eye', { color: INK.measure });
}

function key(paper: Paper, at: readonly [number, number]): void {
  const rows: [string, string, string][] = [
    [INK.cupFill, INK.cup, 'weighed: inner cup with feet'],
    [INK.linerFill, INK.liner, 'weighed: washable liner'],
    [INK.shellFill, INK.shell, 'held in the hand: shell, cover, door, cap'],
    [INK.cellFill, INK.cell, 'load cells, struts, links: the only joints'],
  ];
  rows.forEach(([fill, line, text], i) => {
    const y = at[1] - 6.2 * i;
    paper.areas(
      [
        [
          [at[0], y],
          [at[0] + 5, y],
          [at[0] + 5, y + 3.4],
          [at[0], y + 3.4],
        ],
      ],
      fill,
      line,
      0.9,
    );
    paper.text([at[0] + 7, y + 0.5], text);
  });
}
