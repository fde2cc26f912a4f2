/**
 * The schematic, drawn from the circuit: a panel for every board, parts with many pins as boxes, two-legged ones as symbols, nets by
 * their names (same name, same net).
 */
import { SLEEVE_CIRCUIT } from '../circuit/sleeve-nets.ts';
import type { Circuit, CircuitPart } from '../circuit/types.ts';
import { INK, Paper } from './paper.ts';

const ROW = 5;
const WIDTH = 104;
const GAP = 6;
const SUPPLY_COLOR = '#b4472f';

/** A box has its pins in two columns, a symbol takes one row. */
const isSymbol = ({ pins, kind }: CircuitPart) =>
  pins.length === 2 && ['resistor', 'capacitor', 'diode'].includes(kind);
const heightOf = (part: CircuitPart): number =>
  isSymbol(part) ? ROW : 2 * ROW + Math.ceil(part.pins.length / 2) * ROW + 2;

type NetOf = (part: CircuitPart, pin: string) => string;

const colorOf = (net: string): string =>
  net === 'GND' ? INK.measure : /^(5V|3V3|CELL|PAD|CHG|AVDD)/.test(net) ? SUPPLY_COLOR : INK.board;

function rectangle(paper: Paper, x: [number, number], y: [number, number], fill: string, line: string): void {
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
    1,
  );
}

/** A two-legged part: net, symbol, net; value and use beside it. */
function drawSymbol(paper: Paper, part: CircuitPart, x: number, y: number, netOf: NetOf): void {
  const [a, b] = part.pins.map(({ name }) => netOf(part, name)) as [string, string];
  const middle = y - ROW / 2;
  paper.text([x + 15, middle - 1], a, { anchor: 'end', size: 10, color: colorOf(a) });
  paper.text([x + 29, middle - 1], b, { size: 10, color: colorOf(b) });
  const line = (from: number, to: number) =>
    paper.strokes(
      [
        [
          [x + from, middle],
          [x + to, middle],
        ],
      ],
      INK.line,
      1,
    );
  const upright = (at: number, half: number) =>
    paper.strokes(
      [
        [
          [x + at, middle - half],
          [x + at, middle + half],
        ],
      ],
      INK.line,
      1.4,
    );
  if (part.kind === 'resistor') {
    line(16, 19);
    line(25, 28);
    rectangle(paper, [x + 19, x + 25], [middle - 1, middle + 1], INK.paper, INK.line);
  } else if (part.kind === 'capacitor') {
    line(16, 21.5);
    line(22.5, 28);
    upright(21.5, 1.6);
    upright(22.5, 1.6);
  } else {
    line(16, 28);
    paper.areas(
      [
        [
          [x + 20.5, middle + 1.4],
          [x + 20.5, middle - 1.4],
          [x + 23.5, middle],
        ],
      ],
      INK.line,
      INK.line,
      0.8,
    );
    upright(23.5, 1.5);
  }
  paper.text([x + 45, middle - 1], `${part.ref}  ${part.value}`, { size: 9, bold: true });
  paper.text([x + 77, middle - 1], part.role.length > 26 ? `${part.role.slice(0, 24)}…` : part.role, {
    size: 9,
    color: INK.measure,
  });
}

/** Many pins: a box, names inside, nets outside; pins left open have a cross. */
function drawBox(paper: Paper, part: CircuitPart, x: number, y: number, netOf: NetOf): void {
  const rows = Math.ceil(part.pins.length / 2);
  const [left, right] = [x + 26, x + 78];
  const top = y - 2 * ROW + 1;
  paper.text([x + 2, y - ROW + 1], `${part.ref}  ${part.role}`, { size: 11, bold: true });
  paper.text([x + 2, y - 2 * ROW + 3.4], part.value, { size: 9, color: INK.measure });
  rectangle(paper, [left, right], [top - rows * ROW, top], INK.boardFill, INK.board);
  part.pins.forEach(({ name, open }, i) => {
    const onLeft = i < rows;
    const at = top - ((i % rows) + 0.5) * ROW;
    const [edge, out] = onLeft ? [left, left - 4] : [right, right + 4];
    paper.text([edge + (onLeft ? 1 : -1), at - 1], name, { size: 10, anchor: onLeft ? 'start' : 'end' });
    paper.strokes(
      [
        [
          [edge, at],
          [out, at],
        ],
      ],
      INK.line,
      1,
    );
    const net = netOf(part, name);
    const text = net || (open === undefined ? '?' : '×');
    paper.text([out + (onLeft ? -1 : 1), at - 1], text, {
      size: 10,
      anchor: onLeft ? 'end' : 'start',
      color: net ? colorOf(net) : INK.faint,
    });
  });
}

interface Panel {
  readonly name: string;
  readonly parts: readonly CircuitPart[];
  readonly height: number;
}

function panelsOf({ parts }: Circuit): Panel[] {
  const boards = [...new Set(parts.map(({ on }) => on))];
  return boards
    .map((name) => {
      // Boxes first, then what hangs on them.
      const on = parts
        .filter((part) => part.on === name)
        .sort((a, b) => Number(isSymbol(a)) - Number(isSymbol(b)));
      return { name, parts: on, height: 10 + on.reduce((sum, part) => sum + heightOf(part), 0) };
    })
    .sort((a, b) => b.height - a.height);
}

/** @returns the schematic as SVG */
export function schematicDrawing(circuit: Circuit = SLEEVE_CIRCUIT): string {
  const nets = new Map(
    circuit.nets.flatMap(({ name, pins }) => pins.map((pin): [string, string] => [pin, name])),
  );
  const netOf: NetOf = (part, pin) => nets.get(`${part.ref}.${pin}`) ?? '';
  const columns: { panels: Panel[]; height: number }[] = [0, 1, 2, 3].map(() => ({ panels: [], height: 0 }));
  for (const panel of panelsOf(circuit)) {
    const lowest = columns.reduce((a, b) => (b.height < a.height ? b : a));
    lowest.panels.push(panel);
    lowest.height += panel.height + GAP;
  }
  const tall = Math.max(...columns.map(({ height }) => height));
  const paper = new Paper(
    { left: -6, right: 4 * (WIDTH + GAP) + 2, bottom: -tall - 4, top: 26 },
    3.6,
    'Ebbline sleeve, schematic',
    'Every part of the sleeve with its pins, board by board; nets by name.',
  );
  paper.text([0, 17], 'Schematic', { size: 20, bold: true });
  paper.text([0, 10], 'a panel for each board; the same name is the same net; × stays open', {
    color: INK.measure,
  });
  columns.forEach(({ panels }, i) => {
    const x = i * (WIDTH + GAP);
    let y = 0;
    for (const panel of panels) {
      rectangle(paper, [x, x + WIDTH], [y - panel.height, y], '#fbfbfa', INK.faint);
      paper.text([x + 2, y - 6], panel.name, { size: 13, bold: true, color: INK.shell });
      let at = y - 8;
      for (const part of panel.parts) {
        (isSymbol(part) ? drawSymbol : drawBox)(paper, part, x, at, netOf);
        at -= heightOf(part);
      }
      y -= panel.height + GAP;
    }
  });
  return paper.svg();
}
