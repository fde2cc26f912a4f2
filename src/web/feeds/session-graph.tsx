/** The session graph, drawn by the server as SVG and set into the page. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { useAnswer } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';

/** Margin of the page, as in its styles; the graph goes no wider than the text. */
const EDGE_PX = 16;
const WIDEST_PX = 728;

const asText = (response: Response): Promise<string> => response.text();

export function graphAddress(id: string, kind: 'svg' | 'png', unit: string, widthPx: number): string {
  return `/feeds/${encodeURIComponent(id)}/graph.${kind}?unit=${unit}&width=${widthPx}`;
}

export function SessionGraph({ id }: { id: string }) {
  const { texts, unit } = useChoices();
  const place = useRef<HTMLDivElement>(null);
  const [widthPx] = useState(() => Math.min(WIDEST_PX, document.documentElement.clientWidth - 2 * EDGE_PX));
  const answer = useAnswer<string>(`${graphAddress(id, 'svg', unit, widthPx)}&place=page`, asText);
  useEffect(() => {
    if (answer.state === 'here' && place.current) setIn(place.current, answer.answer);
  }, [answer]);
  return (
    <figure class="graph">
      {answer.state === 'refused' && <p>{texts.feed.graphMissing}</p>}
      <div ref={place} />
    </figure>
  );
}

/**
 * Puts an SVG document into its own shadow tree, so that its styles meet nothing else.
 * The page's policy forbids styles written in markup; those of the drawing are handed over through the style API.
 */
function setIn(place: HTMLElement, svgText: string): void {
  const drawing = new DOMParser().parseFromString(svgText, 'image/svg+xml').documentElement;
  const shadow = place.shadowRoot ?? place.attachShadow({ mode: 'open' });
  const ink = new CSSStyleSheet();
  // What names no paint of its own is drawn in the page's ink, not in black; and the drawing shrinks with the page.
  ink.replaceSync('svg { fill: currentColor; max-width: 100%; height: auto; }');
  shadow.adoptedStyleSheets = [
    ink,
    ...[...drawing.querySelectorAll('style')].map((style) => {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync(style.textContent ?? '');
      style.remove();
      return sheet;
    }),
  ];
  // Inside one picture with a name and a description, names of its parts are not heard.
  for (const named of drawing.querySelectorAll('[aria-label]')) named.removeAttribute('aria-label');
  for (const styled of [drawing, ...drawing.querySelectorAll('[style]')]) {
    styled.setAttribute('data-style', styled.getAttribute('style') ?? '');
    styled.removeAttribute('style');
  }
  shadow.replaceChildren(document.importNode(drawing, true));
  for (const styled of shadow.querySelectorAll<SVGElement>('[data-style]')) {
    styled.style.cssText = styled.dataset.style ?? '';
  }
}
