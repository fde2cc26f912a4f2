/** The feeding plan and the day sheet as self-contained pages: for a screen, and for one sheet of letter paper. */
import { COLUMN_SHARES, type DaySheet } from './day-sheet.ts';
import type { FeedingPlan, LightSign, PlanBlock } from './feeding-plan.ts';

const STYLE = `
@page{size:letter;margin:0}
*{box-sizing:border-box}
html{background:#e9e2d6;color:#1c1712;font:400 15px/1.34 "Source Sans 3","Segoe UI",Roboto,"Noto Sans","Liberation Sans",system-ui,sans-serif;-webkit-print-color-adjust:exact;print-color-adjust:exact}
body{margin:0 auto;max-width:816px;min-height:1056px;background:#fff;padding:40px 48px 28px}
h1{font-size:34px;line-height:1.05;margin:0;letter-spacing:-.01em}
h2{font-size:17px;line-height:1.2;margin:0 0 3px;color:#8a380c}
p{margin:0 0 3px}
header{display:flex;justify-content:space-between;align-items:baseline;gap:24px;border-bottom:3px solid #8a380c;padding-bottom:9px}
header p{font-size:19px;font-weight:600;text-align:right}
.lead{font-size:20px;font-weight:600;line-height:1.25;margin:12px 0 12px}
.blocks{columns:2;column-gap:32px}
.blocks section{break-inside:avoid;margin:0 0 11px}
.blocks ul{margin:0;padding:0 0 0 15px}
.light{border-top:1px solid #d3c8b6;padding-top:10px;margin-top:1px}
.light table{border-collapse:collapse;width:100%}
.light td,.light th{padding:2px 14px 2px 0;vertical-align:middle;text-align:left;font-weight:400}
.light svg{display:block}
.soft{color:#5c5247}
.last{display:grid;grid-template-columns:1.45fr 1fr;gap:18px;margin-top:12px}
.stop{background:#1c1712;color:#fff;border-radius:10px;padding:11px 16px}
.stop h2{color:#ffc9a3}
.stop strong{display:block;margin-top:3px}
.reach{border:2px solid #8a380c;border-radius:10px;padding:10px 16px}
.reach p{font-size:15px}
.reach b{display:block;font-size:23px;line-height:1.15;white-space:nowrap}
.caution{font-weight:600;font-size:14px;margin:11px 0 4px}
.sources{font-size:10.5px;line-height:1.3;color:#5c5247}
.sheet th{font-size:14px;text-align:left;padding:6px 8px;border-bottom:2px solid #1c1712;vertical-align:bottom}
.sheet td{height:58px;border:1px solid #a3998a;padding:4px 8px;font-size:15px}
.sheet table{width:100%;border-collapse:collapse;margin-top:14px;table-layout:fixed}
.sheet ul{margin:12px 0 0;padding-left:17px}
.write{border:1px solid #a3998a;border-radius:8px;height:96px;padding:6px 10px;margin-top:12px}
.blank{display:inline-block;width:9em;border-bottom:1.5px solid #1c1712}
.sign{border-top:1.5px solid #1c1712;width:55%;margin:52px 0 0 auto;padding-top:3px}
@media screen and (max-width:640px){html{font-size:17px}body{padding:20px 18px}header{display:block}header p{text-align:left;margin-top:4px}.blocks{columns:1}.last{grid-template-columns:1fr}.wide{overflow-x:auto}.wide table{min-width:620px}.light tr{display:grid;grid-template-columns:110px 1fr;padding:4px 0}.light td:last-child{grid-column:2}}
@media print{.sheet td{height:64px}.write{height:150px}html{background:#fff;font-size:14px}body{max-width:none;min-height:0;padding:26px 40px 0}h1{font-size:30px}.lead{font-size:17.5px;margin:9px 0}.blocks section{margin-bottom:8px}.light td,.light th{padding-block:1px}.last{margin-top:9px}.stop,.reach{padding:8px 14px}.caution{font-size:13px;margin:7px 0 3px}.sources{font-size:9.5px}.tight{font-size:12.2px}}
`;

/** Number of letters beyond which the printed page needs a smaller font. */
const MUCH_TEXT = 1400;

/** @returns a whole HTML document */
export function feedingPlanPage(plan: FeedingPlan): string {
  const { title, subtitle, lead, blocks, light, stop, reach, caution, sources, language } = plan;
  const people = reach.people
    .map(({ name, phone }) => `<p>${escapeHtml(name)}<b>${escapeHtml(phone)}</b></p>`)
    .join('');
  const length = blocks.flatMap(({ lines }) => lines).reduce((sum, line) => sum + line.length, 0);
  return documentOf(
    language,
    `${title}: ${subtitle}`,
    `<header><h1>${escapeHtml(title)}</h1><p>${escapeHtml(subtitle)}</p></header>
<main>
<p class="lead">${escapeHtml(lead)}</p>
<div class="blocks">${blocks.map(blockHtml).join('\n')}</div>
${light ? lightHtml(light) : ''}
<div class="last">
<section class="stop"><h2>${escapeHtml(stop.heading)}</h2><p>${escapeHtml(stop.signs)}</p><p>${escapeHtml(stop.act)}</p><strong>${escapeHtml(stop.emergency)}</strong></section>
<section class="reach"><h2>${escapeHtml(reach.heading)}</h2>${people}</section>
</div>
<p class="caution">${escapeHtml(caution)}</p>
<p class="sources">${escapeHtml(sources)}</p>
</main>`,
    length > MUCH_TEXT ? 'tight' : '',
  );
}

const blockHtml = ({ heading, lines }: PlanBlock): string =>
  `<section><h2>${escapeHtml(heading)}</h2>${
    lines.length === 1
      ? `<p>${escapeHtml(lines[0]!)}</p>`
      : `<ul>${lines.map((line) => `<li>${escapeHtml(line)}</li>`).join('')}</ul>`
  }</section>`;

function lightHtml({ heading, signs, note }: NonNullable<FeedingPlan['light']>): string {
  const rows = signs.map(
    (sign) =>
      `<tr><td>${rhythmSvg(sign)}</td><th scope="row">${escapeHtml(sign.looks)}</th><td><b>${escapeHtml(sign.means)}</b></td></tr>`,
  );
  return `<section class="light"><h2>${escapeHtml(heading)}</h2><table>${rows.join('')}</table><p class="soft">${escapeHtml(note)}</p></section>`;
}

/** Length of the drawn light pattern; bars where it is on. */
export const RHYTHM_SEC = 4;

export interface GlowBar {
  fromSec: number;
  toSec: number;
}

/** @returns when the light is on in the first four seconds; also used for the PDF. */
export function glowBars(rhythmSec: readonly number[]): GlowBar[] {
  if (rhythmSec.length === 1) return [{ fromSec: 0, toSec: RHYTHM_SEC }];
  const bars: GlowBar[] = [];
  for (let atSec = 0, i = 0; atSec < RHYTHM_SEC; i = (i + 1) % rhythmSec.length) {
    const toSec = Math.min(RHYTHM_SEC, atSec + rhythmSec[i]!);
    if (i % 2 === 0) bars.push({ fromSec: atSec, toSec });
    atSec = toSec;
  }
  return bars;
}

function rhythmSvg({ rhythmSec, color }: LightSign): string {
  const px = 96 / RHYTHM_SEC;
  const bars = glowBars(rhythmSec).map(
    ({ fromSec, toSec }) =>
      `<rect x="${fixed(fromSec * px)}" y="3" width="${fixed((toSec - fromSec) * px)}" height="12" rx="4" fill="${color}"/>`,
  );
  return `<svg width="96" height="18" viewBox="0 0 96 18" aria-hidden="true"><path d="M0 9H96" stroke="#d3c8b6"/>${bars.join('')}</svg>`;
}

const fixed = (px: number): string => String(Math.round(px * 100) / 100);

/** @returns a whole HTML document */
export function daySheetPage(sheet: DaySheet): string {
  const widths = COLUMN_SHARES.map((share) => `<col style="width:${share * 100}%">`).join('');
  const heads = sheet.columns.map((column) => `<th scope="col">${escapeHtml(column)}</th>`).join('');
  const rows = sheet.rows
    .map((row) => `<tr>${row.map((cell) => `<td>${escapeHtml(cell)}</td>`).join('')}</tr>`)
    .join('\n');
  return documentOf(
    sheet.language,
    `${sheet.title}: ${sheet.baby}`,
    `<header><h1>${escapeHtml(sheet.title)}</h1><p>${escapeHtml(sheet.baby)}<br>${escapeHtml(sheet.dayLabel)} ${sheet.day === '' ? '<span class="blank"></span>' : escapeHtml(sheet.day)}</p></header>
<main class="sheet">
<div class="wide" role="region" tabindex="0" aria-label="${escapeHtml(sheet.title)}"><table><colgroup>${widths}</colgroup><thead><tr>${heads}</tr></thead><tbody>${rows}</tbody></table></div>
<ul>${sheet.notes.map((note) => `<li>${escapeHtml(note)}</li>`).join('')}</ul>
<div class="write soft">${escapeHtml(sheet.remarks)}</div>
<p class="sign">${escapeHtml(sheet.signature)}</p>
</main>`,
  );
}

const documentOf = (language: string, title: string, body: string, look = ''): string =>
  `<!doctype html>
<html lang="${language}">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${escapeHtml(title)}</title><style>${STYLE}</style></head>
<body class="${look}">
${body}
</body>
</html>
`;

export const escapeHtml = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
