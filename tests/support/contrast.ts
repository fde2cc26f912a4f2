/**
 * Contrast ratio of two opaque colors, by the definitions "relative luminance" and "contrast ratio" of
 * W3C, Web Content Accessibility Guidelines (WCAG) 2.2.
 */
export type Rgb = readonly [red: number, green: number, blue: number];

/** @param text  "#rrggbb" or "rgb(r, g, b)" */
export function parseColor(text: string): Rgb {
  const hex = /^#([\da-f]{6})$/i.exec(text.trim())?.[1];
  const parts = hex
    ? hex.match(/../g)!.map((part) => Number.parseInt(part, 16))
    : text.match(/[\d.]+/g)?.map(Number);
  if (!parts || parts.length < 3 || (parts.length > 3 && parts[3] !== 1))
    throw new Error(`not an opaque color: ${text}`);
  return [parts[0]!, parts[1]!, parts[2]!];
}

function relativeLuminance(color: Rgb): number {
  const [red, green, blue] = color.map((channel) => {
    const share = channel / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

export function contrastRatio(one: string, other: string): number {
  const [light, dark] = [one, other].map((text) => relativeLuminance(parseColor(text))).sort((a, b) => b - a);
  return (light! + 0.05) / (dark! + 0.05);
}
