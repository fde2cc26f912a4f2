/** Puts a drawing of the server into the page. */
import type { AxisPlace } from './point.ts';

/**
 * Puts an SVG document into its own shadow tree, so that its styles meet nothing else.
 * The page's policy forbids styles written in markup; those of the drawing are handed over through the style API.
 * @returns where its time axis lies; null where the drawing does not say
 */
export function setIn(place: HTMLElement, svgText: string): AxisPlace | null {
  const drawing = new DOMParser().parseFromString(svgText, 'image/svg+xml').documentElement;
  const shadow = place.shadowRoot ?? place.attachShadow({ mode: 'open' });
  const ink = new CSSStyleSheet();
  // What names no paint of its own is drawn in the page's ink, not in black; and the drawing shrinks with the page.
  ink.replaceSync('svg { display: block; fill: currentColor; max-width: 100%; height: auto; }');
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
  return axisOf(drawing);
}

function axisOf(drawing: HTMLElement): AxisPlace | null {
  const { left, right, end } = drawing.dataset;
  const widthPx = Number(drawing.getAttribute('width'));
  if (left === undefined || right === undefined || end === undefined || !(widthPx > 0)) return null;
  return { leftPx: Number(left), rightPx: Number(right), endMin: Number(end), widthPx };
}
