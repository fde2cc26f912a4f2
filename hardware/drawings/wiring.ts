/** The wiring drawing, from the pin table: chip board in the middle, parts left and right, one straight wire each. */
import { ELECTRICAL, type Pin, type WiredPart } from '../pins.ts';
import { PART_NAMES, wiredPins } from '../wiring.ts';
import { INK, Paper } from './paper.ts';

const LEFT: readonly WiredPart[] = ['serial-bridge', 'light', 'button', 'buzzer', 'grip-motor', 'battery'];
const RIGHT: readonly WiredPart[] = ['axial-converter', 'front-converter', 'rear-converter', 'accelerometer'];
const ROW = 7;
const CHIP = { left: -26, right: 26 } as const;
const REACH = 62;
const PART_WIDTH = 38;

const WIRE_COLORS: Partial<Record<WiredPart, string>> = {
  'serial-bridge': '#3d6ea8',
  light: '#a8662f',
  button: INK.board,
  buzzer: '#7a5aa0',
  'grip-motor': '#7a5aa0',
  accelerometer: '#3d6ea8',
};

/** Component in a wire, by part. */
const IN_WIRE: Partial<Record<WiredPart, string>> = { light: '680 Ω', buzzer: '330 Ω', battery: '22 kΩ' };

interface Placed {
  readonly part: WiredPart;
  readonly pins: readonly Pin[];
  readonly top: number;
  readonly bottom: number;
}

/** Puts parts one under another, each as many rows high as it has pins, never fewer than `least`. */
function placed(parts: readonly WiredPart[], top: number, least: number): Placed[] {
  let y = top;
  return parts.map((part) => {
    const pins = wiredPins().filter((pin) => pin.wiredTo!.part === part);
    const rows = Math.max(pins.length, least);
    const from = y;
    y -= (rows + 1) * ROW;
    return { part, pins, top: from, bottom: from - rows * ROW };
  });
}

const isConverter = (place: Placed) => place.part.endsWith('converter');

/** Height of a pin's row: in the middle of its part; under the clock's row in a converter. */
function rowY(place: Placed, i: number): number {
  const room = place.top - place.bottom - place.pins.length * ROW;
  return place.top - (isConverter(place) ? room : room / 2) - (i + 0.5) * ROW;
}

function box(
  paper: Paper,
  x: readonly [number, number],
  y: readonly [number, number],
  fill: string,
  line: string,
): void {
  paper.areas(
    [
      [
        [x[0], y[0]],
        [x[1], y[0]],
        [x[1], y[1]],
        [x[0], y[1]],
      ],
    ],
    fill,
    line,
    1.2,
  );
}

/** Short name of a terminal: what stands before the first comma. */
const shortTerminal = (pin: Pin) => pin.wiredTo!.terminal.split(/[,;]| to | of its /)[0]!;

function drawSide(paper: Paper, places: readonly Placed[], side: 1 | -1): void {
  const near = side * REACH;
  const far = side * (REACH + PART_WIDTH);
  const edge = side === 1 ? CHIP.right : CHIP.left;
  for (const place of places) {
    const color = WIRE_COLORS[place.part] ?? INK.cell;
    box(
      paper,
      [near, far],
      [place.bottom, place.top],
      isConverter(place) ? INK.cellFill : INK.boardFill,
      color,
    );
    paper.text([(near + far) / 2, place.top + 1.2], PART_NAMES[place.part], { anchor: 'middle', bold: true });
    place.pins.forEach((pin, i) => {
      const y = rowY(place, i);
      paper.strokes(
        [
          [
            [edge, y],
            [near, y],
          ],
        ],
        color,
        1.8,
      );
      const value = IN_WIRE[place.part];
      if (value) {
        const middle = (edge + near) / 2;
        box(paper, [middle - 7, middle + 7], [y - 1.6, y + 1.6], INK.paper, color);
        paper.text([middle, y - 1], value, { anchor: 'middle', size: 11 });
      }
      paper.dot([edge, y], 2.6, color);
      paper.dot([near, y], 2.6, color);
      const inside = side === 1 ? 'end' : 'start';
      paper.text([edge - side * 2, y - 1.1], pin.label, { anchor: inside, bold: true });
      paper.text([near + side * 2, y - 1.1], shortTerminal(pin), {
        anchor: side === 1 ? 'start' : 'end',
        size: 12,
      });
    });
  }
}

function drawCells(paper: Paper, converters: readonly Placed[]): void {
  const from = REACH + PART_WIDTH;
  for (const place of converters) {
    const [x0, x1] = [from + 26, from + 58];
    box(paper, [x0, x1], [place.bottom + 1, place.top - 1], '#eef0f2', INK.line);
    const name = `${PART_NAMES[place.part].split(' ')[0]} cell`;
    paper.text([(x0 + x1) / 2, (place.top + place.bottom) / 2 - 1.2], name, { anchor: 'middle' });
    const colors = ['#b4472f', INK.line, INK.board, '#b9c0c6'];
    ['E+', 'E−', 'S+', 'S−'].forEach((terminal, i) => {
      const y = place.top - 1.8 - ((place.top - place.bottom - 3.6) * i) / 3;
      paper.strokes(
        [
          [
            [from, y],
            [x0, y],
          ],
        ],
        colors[i]!,
        1.4,
      );
      paper.text([from + 13, y + 0.5], terminal, { anchor: 'middle', size: 10, color: INK.measure });
    });
  }
}

/** One clock for all three converters, up a line of its own. */
function drawClock(paper: Paper, converters: readonly Placed[], low: number): void {
  const x = REACH - 9;
  const color = '#a8892b';
  const dashed = (line: [number, number][]) => paper.strokes([line], color, 1.8, [0, 0], '6 4');
  const rows = converters.map((place) => place.top - ROW / 2);
  dashed([
    [x, low],
    [x, rows[0]!],
  ]);
  for (const y of rows) {
    dashed([
      [x, y],
      [REACH, y],
    ]);
    paper.dot([REACH, y], 2.6, color);
    paper.text([REACH + 2, y - 1.1], 'XI', { size: 12 });
  }
  box(paper, [x - 22, x + 22], [low - 9, low], '#f7efcf', color);
  paper.text([x, low - 5.6], `Oscillator, ${ELECTRICAL.converterClockHz / 1e6} MHz`, { anchor: 'middle' });
  paper.text([x + 24, low - 5.6], '20 pF in series to each XI; through 100 Ω to XTAL1 of the chip', {
    size: 11,
    color: INK.measure,
  });
}

function drawSupply(paper: Paper, y: number): void {
  const boxes = ['Battery, one pouch', 'Plug', 'Slide switch', 'Booster 5.0 V'];
  const width = 34;
  const gap = 13;
  const start = -(boxes.length * width + (boxes.length - 1) * gap) / 2 - 16;
  boxes.forEach((name, i) => {
    const x = start + i * (width + gap);
    box(paper, [x, x + width], [y, y + 10], '#eef0f2', INK.line);
    paper.text([x + width / 2, y + 3.8], name, { anchor: 'middle' });
    const last = i === boxes.length - 1;
    paper.strokes(
      [
        [
          [x + width, y + 5],
          [x + width + (last ? 9 : gap), y + 5],
        ],
      ],
      '#b4472f',
      2,
    );
    if (last)
      paper.text(
        [x + width + 11, y + 3.8],
        '5 V to chip board, converters, oscillator; 3.3 V to radio and accelerometer',
        { size: 12 },
      );
  });
  paper.text(
    [start, y - 6],
    'No cable in use: USB adapter on the bench only, through an isolator if the host is on mains. On the charging stand the sleeve is off.',
    { size: 12.5, color: INK.measure },
  );
}

/** @returns the wiring drawing as SVG */
export function wiringDrawing(): string {
  const top = 60;
  const left = placed(LEFT, top, 2);
  const right = placed(RIGHT, top, 3);
  const bottom = Math.min(left[left.length - 1]!.bottom, right[right.length - 1]!.bottom);
  const paper = new Paper(
    { left: -112, right: 168, bottom: bottom - 50, top: top + 30 },
    4.6,
    'Ebbline sleeve, wiring',
    'Chip board in the middle; radio bridge, light, button and buzzer on the left; converters with their cells and the accelerometer on the right.',
  );
  paper.text([-108, top + 21], 'Wiring', { size: 20, bold: true });
  paper.text(
    [-108, top + 15.5],
    'from the pin table; every wire and part: schematic and tables of the build guide',
    { color: INK.measure },
  );
  box(paper, [CHIP.left, CHIP.right], [bottom - 3, top + 3], '#e9edf2', INK.line);
  paper.text([0, top + 5.5], `Chip board, ${ELECTRICAL.chip}`, { anchor: 'middle', bold: true });
  drawSide(paper, left, -1);
  drawSide(paper, right, 1);
  const converters = right.filter(isConverter);
  drawCells(paper, converters);
  drawClock(paper, converters, bottom - 6);
  drawSupply(paper, bottom - 38);
  return paper.svg();
}
