/** A sheet of paper: lines, fills, texts and measures as SVG. Millimetres of the sleeve, v upwards, one scale. Pure. */

export const INK = {
  line: '#2b2f33',
  faint: '#9aa3ab',
  measure: '#5b6670',
  text: '#2b2f33',
  cup: '#2f7f86',
  cupFill: '#cfe7e6',
  liner: '#e2b23c',
  linerFill: '#f7e7b8',
  shell: '#5a4a66',
  shellFill: '#ddd4e6',
  cell: '#b4472f',
  cellFill: '#f0c9bd',
  board: '#5f7a35',
  boardFill: '#dbe6c8',
  milk: '#f6f4ee',
  paper: '#ffffff',
} as const;

const escaped = (text: string) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
const n = (value: number) => String(Number(value.toFixed(1)));

type Point = readonly [number, number];

export interface Frame {
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
  readonly top: number;
}

export class Paper {
  private readonly out: string[] = [];

  /** @param scale units of the SVG for one mm */
  constructor(
    private readonly frame: Frame,
    private readonly scale: number,
    private readonly title: string,
    private readonly description: string,
  ) {}

  private u = (x: number) => n((x - this.frame.left) * this.scale);
  private v = (y: number) => n((this.frame.top - y) * this.scale);
  private data = (line: readonly Point[], closed: boolean) =>
    line.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${this.u(x)} ${this.v(y)}`).join('') + (closed ? 'Z' : '');

  /** Lines of equal look as one path; `at` moves them. */
  strokes(
    lines: readonly (readonly Point[])[],
    color: string,
    width: number,
    at: Point = [0, 0],
    dash = '',
  ): void {
    if (lines.length === 0) return;
    const d = lines
      .map((line) =>
        this.data(
          line.map(([x, y]): Point => [x + at[0], y + at[1]]),
          false,
        ),
      )
      .join('');
    const dashes = dash ? ` stroke-dasharray="${dash}"` : '';
    this.out.push(`<path d="${d}" fill="none" stroke="${color}" stroke-width="${width}"${dashes}/>`);
  }

  /** Closed outlines, holes left out. */
  areas(loops: readonly (readonly Point[])[], fill: string, color: string, width: number): void {
    if (loops.length === 0) return;
    const d = loops.map((loop) => this.data(loop, true)).join('');
    this.out.push(
      `<path d="${d}" fill="${fill}" fill-rule="evenodd" stroke="${color}" stroke-width="${width}"/>`,
    );
  }

  dot(at: Point, radius: number, fill: string): void {
    this.out.push(`<circle cx="${this.u(at[0])}" cy="${this.v(at[1])}" r="${radius}" fill="${fill}"/>`);
  }

  text(
    at: Point,
    text: string,
    { size = 13, anchor = 'start', color = INK.text as string, bold = false, turned = false } = {},
  ): void {
    const [x, y] = [this.u(at[0]), this.v(at[1])];
    const turn = turned ? ` transform="rotate(-90 ${x} ${y})"` : '';
    this.out.push(
      `<text x="${x}" y="${y}" font-size="${size}" text-anchor="${anchor}" fill="${color}"${bold ? ' font-weight="600"' : ''}${turn}>${escaped(text)}</text>`,
    );
  }

  /** A name beside the drawing with a thin line to its part. */
  label(
    text: string,
    from: Point,
    to: Point,
    anchor: 'start' | 'end' | 'middle' = 'start',
    color: string = INK.text,
  ): void {
    this.strokes([[from, to]], INK.faint, 0.8);
    this.dot(to, 1.8, INK.measure);
    const gap = 1.2;
    const side = anchor === 'start' ? gap : anchor === 'end' ? -gap : 0;
    const lift = anchor === 'middle' ? (from[1] > to[1] ? 1 : -4.2) : -1.4;
    this.text([from[0] + side, from[1] + lift], text, { anchor, color });
  }

  private arrows(a: Point, b: Point): void {
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const [ex, ey] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const head = (p: Point, s: number): Point[] => [
      [p[0] + s * 2.2 * ex - 0.7 * ey, p[1] + s * 2.2 * ey + 0.7 * ex],
      p,
      [p[0] + s * 2.2 * ex + 0.7 * ey, p[1] + s * 2.2 * ey - 0.7 * ex],
    ];
    this.strokes([[a, b], head(a, 1), head(b, -1)], INK.measure, 0.8);
  }

  /** A measure along the paper's width, at height `y`; `from` are the heights its help lines start at. */
  across(x: readonly [number, number], y: number, from: readonly [number, number], text: string): void {
    const over = (f: number) => y + (y > f ? 1.2 : -1.2);
    this.strokes(
      [
        [
          [x[0], from[0]],
          [x[0], over(from[0])],
        ],
        [
          [x[1], from[1]],
          [x[1], over(from[1])],
        ],
      ],
      INK.faint,
      0.6,
    );
    this.arrows([x[0], y], [x[1], y]);
    this.text([(x[0] + x[1]) / 2, y + 1], text, { anchor: 'middle', size: 12, color: INK.measure });
  }

  /** A measure along the paper's height, at `x`. */
  upright(y: readonly [number, number], x: number, from: readonly [number, number], text: string): void {
    const over = (f: number) => x + (x > f ? 1.2 : -1.2);
    this.strokes(
      [
        [
          [from[0], y[0]],
          [over(from[0]), y[0]],
        ],
        [
          [from[1], y[1]],
          [over(from[1]), y[1]],
        ],
      ],
      INK.faint,
      0.6,
    );
    this.arrows([x, y[0]], [x, y[1]]);
    this.text([x - 1, (y[0] + y[1]) / 2], text, {
      anchor: 'middle',
      size: 12,
      color: INK.measure,
      turned: true,
    });
  }

  raw(svg: string): void {
    this.out.push(svg);
  }

  svg(): string {
    const width = n((this.frame.right - this.frame.left) * this.scale);
    const height = n((this.frame.top - this.frame.bottom) * this.scale);
    return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" font-family="'Source Sans 3', 'Helvetica Neue', Arial, sans-serif" stroke-linecap="round" stroke-linejoin="round" role="img">
<title>${escaped(this.title)}</title>
<desc>${escaped(this.description)}</desc>
<rect width="${width}" height="${height}" fill="${INK.paper}"/>
${this.out.join('\n')}
</svg>
`;
  }
}
