/** The certificate as one self-contained HTML page. */
import type { Certificate, CertificateTable } from '../../calibration/walk/certificate.ts';

const STYLE = `
:root { color-scheme: light; }
body { font: 15px/1.45 "Source Sans 3", "Segoe UI", "Helvetica Neue", sans-serif; color: #1d2a2f; background: #fff; margin: 2rem auto; max-width: 52rem; padding: 0 1rem; }
h1 { font-size: 1.7rem; margin: 0; }
h2 { font-size: 1.05rem; margin: 1.6rem 0 .3rem; }
p { margin: .3rem 0; }
.under { color: #4a5a60; }
.caution { border-left: 4px solid #b45309; padding: .4rem .8rem; margin: 1rem 0; background: #fff7ed; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .15rem 1.2rem; margin: 1rem 0; }
dt { color: #4a5a60; } dd { margin: 0; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .2rem .9rem .2rem 0; border-bottom: 1px solid #d5dde0; }
th { font-weight: 600; }
.right { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
td:first-child { min-width: 9rem; }
.scroll { overflow-x: auto; }
small { color: #4a5a60; }
@media print { body { margin: 0; font-size: 11px; } h2, tr { break-inside: avoid; } h2 { break-after: avoid; } }
`;

const escaped = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');

function tableHtml({ title, heads, rows, rightFrom, note }: CertificateTable): string {
  const side = (i: number): string => (i >= rightFrom ? ' class="right"' : '');
  const head = heads.map((text, i) => `<th scope="col"${side(i)}>${escaped(text)}</th>`).join('');
  const body = rows
    .map((row) => `<tr>${row.map((text, i) => `<td${side(i)}>${escaped(text)}</td>`).join('')}</tr>`)
    .join('\n');
  return [
    `<h2>${escaped(title)}</h2>`,
    `<div class="scroll"><table><thead><tr>${head}</tr></thead><tbody>\n${body}\n</tbody></table></div>`,
    note ? `<p><small>${escaped(note)}</small></p>` : '',
  ].join('\n');
}

/** @returns a whole document */
export function certificateHtml(certificate: Certificate): string {
  const { title, subtitle, caution, foot, facts, tables, closing } = certificate;
  return `<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(`${title}: ${subtitle}`)}</title><style>${STYLE}</style></head>
<body>
<h1>${escaped(title)}</h1>
<p class="under">${escaped(subtitle)}</p>
<p class="caution">${escaped(caution)}</p>
<dl>${facts.map(([name, text]) => `<dt>${escaped(name)}</dt><dd>${escaped(text)}</dd>`).join('\n')}</dl>
${tables.map(tableHtml).join('\n')}
<h2>About these figures</h2>
${closing.map((text) => `<p>${escaped(text)}</p>`).join('\n')}
<p class="under">${escaped(foot)}</p>
</body></html>
`;
}
