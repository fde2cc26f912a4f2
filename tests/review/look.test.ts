import { describe, expect, test } from 'vitest';
import { layoutFor, PALETTES, wrapText } from '../../src/review/graph/look.ts';

/** Relative luminance and contrast, as WCAG 2.2 defines them (section "relative luminance", "contrast ratio"). */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5]
    .map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255)
    .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4)) as [
    number,
    number,
    number,
  ];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
function contrast(one: string, other: string): number {
  const [lighter, darker] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [number, number];
  return (lighter + 0.05) / (darker + 0.05);
}

test('the contrast formula gives the published 21:1 for black on white', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 9);
});

// WCAG 2.2: 1.4.3 asks 4.5:1 for text; 1.4.11 asks 3:1 for what must be seen in a graphic.
describe.each(['light', 'dark'] as const)('%s', (theme) => {
  const { paper, ink, softInk, hue } = PALETTES[theme];
  test('text and lines stand out', () => {
    expect(contrast(ink, paper)).toBeGreaterThan(7);
    expect(contrast(softInk, paper)).toBeGreaterThan(4.5);
    expect(contrast(hue, paper)).toBeGreaterThan(4.5);
  });
});

describe('layout', () => {
  test.each([
    [100, 280],
    [360, 360],
    [760, 760],
    [9000, 1600],
  ])('%d px asked, %d px drawn', (asked, drawn) => {
    const layout = layoutFor(asked);
    expect(layout.widthPx).toBe(drawn);
    expect(layout.rightPx - layout.leftPx).toBeGreaterThan(drawn * 0.6);
  });

  test('no text on a phone is under 11 px', () => {
    const { fontPx, notePx } = layoutFor(360);
    expect(Math.min(fontPx - 1, notePx)).toBeGreaterThanOrEqual(11);
  });
});

describe('wrapping', () => {
  test('keeps numbers with their units and separators with what they follow', () => {
    const lines = wrapText('2¾ fl oz (82 mL) taken in 18 min · and so on and so forth', 90, 12);
    const all = lines.join('\n');
    expect(lines.length).toBeGreaterThan(3);
    expect(all).not.toMatch(/\n(fl|oz|mL|min|·)/);
    expect(lines.join(' ').replaceAll('\u00a0', ' ')).toBe(
      '2¾ fl oz (82 mL) taken in 18 min · and so on and so forth',
    );
  });

  test('balanced lines are as few as filled ones', () => {
    const text = 'one two three four five six seven eight nine ten eleven';
    const filled = wrapText(text, 150, 12);
    const balanced = wrapText(text, 150, 12, true);
    expect(balanced).toHaveLength(filled.length);
    const spread = (lines: string[]) => Math.max(...lines.map(({ length }) => length)) - lines.at(-1)!.length;
    expect(spread(balanced)).toBeLessThan(spread(filled));
  });
});
