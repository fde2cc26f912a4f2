/** The sleeve as it looks: from both ends, and its parts pulled apart. */
import { GRIP, SHAPE as S } from '../design.ts';
import { type Part, partNamed, sleeveParts } from '../shape/assembly.ts';
import { type Drawn, type View, visibleLines } from './hidden-lines.ts';
import { INK, Paper } from './paper.ts';
import { colorsOf, mm } from './sleeve.ts';

const FROM_TEAT: View = { right: [0, -1, 0], up: [1, 0, 0] };
const FROM_BEHIND: View = { right: [0, 1, 0], up: [1, 0, 0] };
const visible = (names: (part: Part) => boolean): Drawn[] =>
  sleeveParts()
    .filter(names)
    // One looks through the pane.
    .map(({ name, mesh }) => ({ name, mesh, ghost: name === 'window pane' }));

function drawView(
  paper: Paper,
  parts: Drawn[],
  view: View,
  at: readonly [number, number],
  width = 1.1,
): void {
  for (const { name, lines } of visibleLines(parts, view)) {
    const part = partNamed(name);
    const { line } = colorsOf(part);
    const color = part.name === 'bottle' ? INK.measure : line;
    paper.strokes(lines, color, part.name === 'bottle' ? width * 0.8 : width, at);
  }
}

/** The sleeve from the teat's end and from behind, as baby and caregiver see it. */
export function endViews(): string {
  const paper = new Paper(
    { left: -72, right: 172, bottom: -92, top: 72 },
    5,
    'Ebbline sleeve, end views',
    'Left: from the nipple end. Right: from behind, as the caregiver sees it, with light and button.',
  );
  paper.text([-68, 64], 'End views', { size: 20, bold: true });
  drawView(
    paper,
    visible(() => true),
    FROM_TEAT,
    [0, 0],
  );
  drawView(
    paper,
    visible((part) => part.name !== 'bottle'),
    FROM_BEHIND,
    [100, 0],
  );
  paper.text([0, 52], 'from the nipple end', { anchor: 'middle', color: INK.measure });
  paper.text([100, 52], 'from behind: what the caregiver sees', { anchor: 'middle', color: INK.measure });
  paper.across([-S.keelOuter, S.keelOuter], -74, [S.keelX, S.keelX], `grip Ø ${mm(GRIP.diameterMm)}`);
  paper.across([-S.shellOuter, S.shellOuter], -84, [0, 0], `shell Ø ${mm(2 * S.shellOuter)}`);
  paper.upright([S.keelX - S.keelOuter, S.shellOuter], -52, [0, 0], mm(S.shellOuter + S.keelOuter - S.keelX));
  paper.label('light', [140, 38], [106, 27], 'start');
  paper.label('button', [142, 10], [103.5, 8], 'start');
  paper.label('buzzer', [142, -14], [86.2, -10], 'start');
  paper.label('switch', [142, -40], [104, S.keelX - 3], 'start');
  paper.label('drip lip of the liner', [-38, 44], [-20, 31], 'end');
  return paper.svg();
}

/** View from behind, above and one side, bottle level: x is up, the teat points away to the right. */
function axonometric(): View {
  const [ex, ey, ez] = [0.5, 0.7, -0.51];
  const across = Math.hypot(ey, ez);
  const size = Math.hypot(ex, across);
  const right: View['right'] = [0, -ez / across, ey / across];
  const eye = [ex / size, ey / size, ez / size] as const;
  const up: View['up'] = [
    eye[1] * right[2] - eye[2] * right[1],
    eye[2] * right[0] - eye[0] * right[2],
    eye[0] * right[1] - eye[1] * right[0],
  ];
  return { right, up };
}

/** The whole sleeve with its bottle, and the same with the parts drawn apart. */
export function partsApart(): string {
  const view = axonometric();
  const paper = new Paper(
    { left: -235, right: 275, bottom: -226, top: 205 },
    2.6,
    'Ebbline sleeve, parts apart',
    'Left: the sleeve on its bottle, seen from behind and above. Right: the parts drawn apart.',
  );
  paper.text([-227, 190], 'The sleeve, and its parts drawn apart', { size: 20, bold: true });
  drawView(
    paper,
    visible(() => true),
    view,
    [-140, 110],
    0.9,
  );
  const shifts: Record<string, [number, number, number]> = {
    bottle: [0, 0, 215],
    liner: [0, 0, 118],
    'small cup': [-95, 30, 118],
    'inner cup': [0, 0, 22],
    'window pane': [55, 0, -85],
    shell: [0, 0, -85],
    'grip cover': [-45, 0, -85],
    'battery door': [-78, 0, -85],
    'end cap': [0, 0, -140],
    'light disc': [14, 0, -154],
  };
  const apart = [...sleeveParts(), partNamed('small cup')]
    .filter((part) => shifts[part.name])
    .map(({ name, mesh }): Drawn => ({ name, mesh, shift: shifts[name]! }));
  drawView(paper, apart, view, [-65, -55], 0.9);
  const names: [string, number, number][] = [
    ['end cap', -212, -172],
    ['shell', -40, -112],
    ['window pane', -130, 26],
    ['grip cover', -38, -146],
    ['battery door', -72, -196],
    ['inner cup', 15, -70],
    ['liner', 95, -42],
    ['bottle', 190, -14],
    ['small cup, in place of the liner', 88, -146],
  ];
  for (const [text, u, v] of names) paper.text([u, v], text, { color: INK.measure });
  return paper.svg();
}
