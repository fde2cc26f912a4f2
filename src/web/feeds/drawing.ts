/** Inserts a drawing from the server into the page. */
import type { AxisPlace } from './point.ts';

/**
 * Inserts an SVG document in a shadow tree of its own, so that its styles affect nothing else.
 * The page's content policy forbids styles in markup, so the drawing's styles are set through the style API.
 * @returns where its time axis lies; null if the drawing does not say
 */
export function setIn(place: HTMLElement, svgText: string): AxisPlace | null {
  const drawing = new DOMParser().parseFromString(svgText, 'image/svg+xml').documentElement;
  const shadow = place.shadowRoot ?? place.attachShadow({ mode: 'open' });
  const ink = new CSSStyleSheet();
  // Elements without a color take the page's text color instead of black; and the drawing shrinks with the page.
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
  // The picture has one name and one description; names of its parts would be read out as well.
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
