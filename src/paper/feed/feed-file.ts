/** One feed as a file to hand on: a self-contained page without scripts. */
import type { KeptFeed } from '../../feed/record/feed.ts';
import { escapeHtml } from '../../review/graph/escape-html.ts';
import { feedGraphSvg } from '../../review/graph/feed-graph.ts';
import { type TellingOptions, type ToldFeed, tellFeed } from '../../review/telling/telling.ts';
import { REVIEW_WORDS, type ReviewWords } from '../../review/telling/words.ts';

export interface FileOptions extends TellingOptions {
  /** A note by the sender; absent: the feed's own note; empty: none. */
  note?: string | undefined;
}

/** Text size as on a phone; the graph keeps its size and can be scrolled on narrow screens. */
const STYLE = `
html{background:#fbf8f2;color:#1c1712;font:17px/1.45 "Source Sans 3","Segoe UI",Roboto,"Noto Sans","Liberation Sans",system-ui,sans-serif}
body{margin:0 auto;max-width:800px;padding:20px 16px 40px}
h1{font-size:26px;line-height:1.2;margin:0 0 6px}
h2{font-size:19px;margin:28px 0 6px}
p{margin:0 0 8px}ul{margin:0;padding-left:20px}
.soft{color:#5e564c}.simulated{color:#a8481a;font-weight:600}
.note{border-left:4px solid #a8481a;padding-left:12px;white-space:pre-wrap}
.graph{overflow-x:auto}.graph svg{max-width:100%;height:auto;min-width:560px}
.scroll{overflow-x:auto}
table{border-collapse:collapse;font-size:15px;font-variant-numeric:tabular-nums}
th,td{text-align:left;padding:4px 14px 4px 0;border-top:1px solid #ddd5c8;font-weight:400;vertical-align:baseline}
thead th{border-top:0;color:#5e564c;font-size:13px;font-weight:600}
.small{font-size:14px}
@media print{html{background:#fff}.graph svg{min-width:0}section{break-inside:avoid}}
`;

/** @returns a whole HTML document */
export function feedFile(feed: KeptFeed, options: FileOptions): string {
  const { language = 'en' } = options;
  const words = REVIEW_WORDS[language];
  const told = tellFeed(feed, options);
  const body = `<main>
${feedSection(feed, told, options, 'h1')}
${tableHtml(told, words)}
</main>
${footer(words, [told.figures.join(' '), told.bandNote, told.provenance])}`;
  return documentOf(language, `${told.sentence} ${told.when}`, body);
}

/** "3:00 “Burp” by page and light: nipple out after 4 s". */
export const cueLine = (
  { at, words: cue, by, followed }: ToldFeed['cues'][number],
  words: ReviewWords,
): string => [[at, words.quoted(cue), by].filter(Boolean).join(' '), followed].filter(Boolean).join(': ');

/** A feed within a page: heading, note, graph, cues. @param heading of its sentence */
export function feedSection(
  feed: KeptFeed,
  told: ToldFeed,
  options: FileOptions,
  heading: 'h1' | 'h2',
): string {
  const { language = 'en', volumeUnit, timeZone } = options;
  const words = REVIEW_WORDS[language];
  const note = options.note ?? told.note ?? '';
  const svg = feedGraphSvg(feed, {
    volumeUnit,
    language,
    hasHeading: false,
    hasNotes: false,
    ...(timeZone !== undefined && { timeZone }),
  });
  // The picture has one name and description, so the names of its parts are removed.
  const picture = svg.replaceAll(/(<g [^>]*?) aria-label="[^"]*"/g, '$1');
  const cues = told.cues.map((cue) => `<li>${escapeHtml(cueLine(cue, words))}</li>`);
  return `<section>
<${heading}>${escapeHtml(told.sentence)}</${heading}>
${paragraphs([told.reading])}${paragraphs([told.when, told.names], 'soft')}
${note === '' ? '' : `<h2>${escapeHtml(words.noteTitle)}</h2><p class="note">${escapeHtml(note)}</p>`}
<div class="graph" role="region" tabindex="0" aria-label="${escapeHtml(words.graphTitle)}">${picture}</div>
${paragraphs([told.facts.join(' '), told.ended])}
<h2>${escapeHtml(words.cuesTitle)}</h2>
${paragraphs([told.cuesNote], 'soft')}${cues.length === 0 && !told.cuesNote ? paragraphs([words.noCues]) : `<ul>${cues.join('')}</ul>`}
</section>`;
}

function tableHtml({ table }: ToldFeed, words: ReviewWords): string {
  if (table.rows.length === 0) return '';
  const heads = table.heads.map((head) => `<th scope="col">${escapeHtml(head)}</th>`).join('');
  const rows = table.rows.map(
    ([first, ...rest]) =>
      `<tr><th scope="row">${escapeHtml(first!)}</th>${rest.map((cell) => `<td>${escapeHtml(cell)}</td>`).join('')}</tr>`,
  );
  return `<h2 id="minutes">${escapeHtml(words.table.title)}</h2>
<div class="scroll" role="region" tabindex="0" aria-labelledby="minutes"><table><thead><tr>${heads}</tr></thead><tbody>
${rows.join('\n')}
</tbody></table></div>`;
}

export const paragraphs = (texts: (string | null)[], className = ''): string =>
  texts
    .filter((text) => text)
    .map((text) => `<p${className && ` class="${className}"`}>${escapeHtml(text!)}</p>`)
    .join('\n');

export const footer = (words: ReviewWords, notes: string[]): string =>
  `<footer class="small soft"><h2>${escapeHtml(words.numbersTitle)}</h2>${paragraphs([...notes, words.caution])}</footer>`;

/** The document loads nothing and has no script. */
export const documentOf = (language: string, title: string, body: string): string => `<!doctype html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(title)}</title>
<style>${STYLE}</style>
</head>
<body>
${body}
</body>
</html>
`;
