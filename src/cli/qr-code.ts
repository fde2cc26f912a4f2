/** A QR code in the terminal, dark on light whatever the terminal's own colors are. */
import { encode } from 'uqr';

const QUIET = 2;
const UPPER_HALF = '▀';
/** Select graphic rendition (ECMA-48, section 8.3.117): foreground is the upper half, background the lower. */
const paint = (upperDark: boolean, lowerDark: boolean): string =>
  `\u001b[${upperDark ? 30 : 97};${lowerDark ? 40 : 107}m${UPPER_HALF}`;

/** @returns lines, two rows of modules in each */
export function qrCode(text: string): string {
  const { data, size } = encode(text, { border: 0 });
  const isDark = (x: number, y: number): boolean => data[y]?.[x] ?? false;
  const lines: string[] = [];
  for (let y = -QUIET; y < size + QUIET; y += 2) {
    let line = '';
    for (let x = -QUIET; x < size + QUIET; x++) line += paint(isDark(x, y), isDark(x, y + 1));
    lines.push(`${line}\u001b[0m`);
  }
  return lines.join('\n');
}
