/** The sheet for the next shift, as a self-contained page and as PDF. */
import { clockOf, dayOf } from '../../base/calendar.ts';
import { volumeText } from '../../base/units.ts';
import { HUE, MARGIN, openPen, type Pen, SOFT } from '../pen.ts';
import { escapeHtml } from '../sheets/page.ts';
import { clockText, dateText } from '../sheets/texts.ts';
import { HANDOVER_WORDS, type HandoverWords } from './handover-words.ts';

type Language = 'en' | 'es';

export interface Handover {
  fromMs: number;
  toMs: number;
  zone: string;
  /** Where the list of who looked and changed stands; null: it is not told. */
  trailMark: string | null;
  children: {
    name: string;
    cot: string;
    feeds: {
      atMs: number;
      kind: 'bottle' | 'breast' | 'refused';
      takenMl: number | null;
      leftMl: number | null;
      leftUntilMs: number | null;
      fedBy: string | null;
      note: string | null;
    }[];
    milk: { label: string; ml: number; useByMs: number; isLeftOver: boolean }[];
  }[];
}

interface ToldChild {
  heading: string;
  rows: string[][];
  milk: string[];
}

interface Told {
  title: string;
  when: string;
  words: HandoverWords;
  children: ToldChild[];
  foot: string[];
}

function told({ fromMs, toMs, zone, children, trailMark }: Handover, language: Language): Told {
  const words = HANDOVER_WORDS[language];
  const clock = (atMs: number): string => clockText(clockOf(atMs, zone), language);
  const instant = (atMs: number): string =>
    dayOf(atMs, zone) === dayOf(toMs, zone)
      ? clock(atMs)
      : `${dateText(dayOf(atMs, zone), language)}, ${clock(atMs)}`;
  const amount = (ml: number | null): string => (ml === null ? '' : volumeText(ml));
  return {
    title: words.title,
    when: `${dateText(dayOf(fromMs, zone), language)}, ${clock(fromMs)} – ${instant(toMs)}`,
    words,
    foot: [words.foot, ...(trailMark === null ? [] : [words.trail(trailMark)])],
    children: children.map(({ name, cot, feeds, milk }) => ({
      heading: cot === '' ? name : `${words.cot(cot)}: ${name}`,
      rows: feeds.map((feed) => [
        clock(feed.atMs),
        feed.kind === 'bottle' ? amount(feed.takenMl) : words[feed.kind],
        amount(feed.leftMl),
        feed.leftUntilMs === null ? '' : feed.leftUntilMs <= toMs ? words.passed : instant(feed.leftUntilMs),
        feed.fedBy ?? '',
        feed.note ?? '',
      ]),
      milk: milk.map(({ label, ml, useByMs, isLeftOver }) =>
        [
          words.milkLine(label, volumeText(ml), useByMs <= toMs ? words.passed : instant(useByMs)),
          isLeftOver ? words.leftOver : '',
        ]
          .filter(Boolean)
          .join(', '),
      ),
    })),
  };
}

const STYLE = `
@page{size:letter;margin:14mm}
*{box-sizing:border-box}
html{color:#1c1712;font:400 14px/1.35 "Source Sans 3","Segoe UI",Roboto,"Noto Sans","Liberation Sans",system-ui,sans-serif}
body{max-width:820px;margin:0 auto;padding:20px}
h1{font-size:30px;margin:0}
h2{font-size:18px;margin:20px 0 4px;color:#8a380c}
table{width:100%;border-collapse:collapse}
th,td{padding:3px 6px;border:1px solid #a3998a;text-align:left;vertical-align:top}
section{break-inside:avoid}
ul{margin:4px 0;padding-left:18px}
.write{height:48px;border:1px solid #a3998a;border-radius:6px;margin-top:6px;padding:2px 6px;color:#5c5247;font-size:12px}
.wide{overflow-x:auto}
footer{margin-top:18px;color:#5c5247;font-size:12px}
`;

/** @returns a whole HTML document */
export function handoverPage(sheet: Handover, language: Language): string {
  const { title, when, words, children, foot } = told(sheet, language);
  const sections = children.map(({ heading, rows, milk }) => {
    const head = words.columns.map((column) => `<th scope="col">${escapeHtml(column)}</th>`).join('');
    const body = rows
      .map((row) => `<tr>${row.map((cell) => `<td>${escapeHtml(cell)}</td>`).join('')}</tr>`)
      .join('\n');
    const table = `<div class="wide" role="region" tabindex="0" aria-label="${escapeHtml(heading)}"><table><thead><tr>${head}</tr></thead><tbody>${body}</tbody></table></div>`;
    const bottles = milk.map((line) => `<li>${escapeHtml(line)}</li>`).join('');
    return `<section><h2>${escapeHtml(heading)}</h2>${rows.length > 0 ? table : `<p>${escapeHtml(words.noFeeds)}</p>`}
${bottles === '' ? '' : `<p>${escapeHtml(words.milk)}</p><ul>${bottles}</ul>`}<div class="write">${escapeHtml(words.notes)}</div></section>`;
  });
  return `<!doctype html><html lang="${language}"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(title)}</title><style>${STYLE}</style></head><body><main><h1>${escapeHtml(title)}</h1><p>${escapeHtml(when)}</p>
${sections.join('\n')}</main><footer>${foot.map((line) => `<p>${escapeHtml(line)}</p>`).join('')}</footer></body></html>`;
}

const COLUMN_SHARES = [0.1, 0.2, 0.19, 0.17, 0.13, 0.21] as const;
const LEAST_ROOM = 130;

/** @returns the bytes of the document. @throws PlainError when the font lacks a letter */
export async function handoverPdf(sheet: Handover, language: Language): Promise<Buffer> {
  const { title, when, words, children, foot } = told(sheet, language);
  const texts = children.flatMap(({ heading, rows, milk }) => [heading, ...rows.flat(), ...milk]);
  const pen = openPen(title, language, texts);
  const { pdf, write } = pen;
  const width = pdf.page.width - 2 * MARGIN;
  let y = write(title, { x: MARGIN, y: MARGIN, width }, { size: 24, font: 'semibold' }, 'H1');
  y = write(when, { x: MARGIN, y, width }, { size: 12 }) + 6;
  const room = (): void => {
    if (y < pdf.page.height - MARGIN - LEAST_ROOM) return;
    pdf.addPage();
    pdf.page.margins.bottom = 0;
    y = MARGIN;
  };
  for (const { heading, rows, milk } of children) {
    room();
    y = write(heading, { x: MARGIN, y: y + 8, width }, { size: 15, font: 'semibold', color: HUE }, 'H2') + 2;
    if (rows.length === 0) y = write(words.noFeeds, { x: MARGIN, y, width }, { size: 11 });
    else y = writeRow(pen, words.columns, y, width, true);
    for (const row of rows) {
      room();
      y = writeRow(pen, row, y, width, false);
    }
    for (const line of milk) y = write(`${words.milk}: ${line}`, { x: MARGIN, y, width }, { size: 11 });
  }
  room();
  y += 14;
  for (const line of foot) y = write(line, { x: MARGIN, y, width }, { size: 9, color: SOFT }) + 2;
  return pen.finish();
}

function writeRow(
  { write, measure }: Pen,
  cells: readonly string[],
  y: number,
  width: number,
  isHead: boolean,
): number {
  const style = { size: 10.5, font: isHead ? ('semibold' as const) : ('regular' as const) };
  let x = MARGIN;
  let below = y;
  cells.forEach((cell, i) => {
    const place = { x, y, width: COLUMN_SHARES[i]! * width - 6 };
    if (cell !== '') {
      write(cell, place, style);
      below = Math.max(below, measure(cell, place, style));
    }
    x += COLUMN_SHARES[i]! * width;
  });
  return below + 2;
}
