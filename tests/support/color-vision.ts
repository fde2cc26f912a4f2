/**
 * Colors as seen with a color-vision deficiency. Source: Machado GM, Oliveira MM, Fernandes LAF. 2009. "A physiologically-based
 * model for simulation of color vision deficiency". IEEE TVCG 15(6):1291-1298; its matrices for full severity, on linear light
 * (from memory). Browsers simulate with the same matrices.
 */
import { parseColor } from './contrast.ts';

export const DEFICIENCIES = {
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
} as const;
export type Deficiency = keyof typeof DEFICIENCIES;

const linear = (channel: number): number => {
  const share = channel / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
};
const encoded = (light: number): number => {
  const share = Math.min(1, Math.max(0, light));
  return Math.round(255 * (share <= 0.0031308 ? 12.92 * share : 1.055 * share ** (1 / 2.4) - 0.055));
};

/** @param color  "#rrggbb" @returns "rgb(r, g, b)" */
export function asSeenWith(deficiency: Deficiency, color: string): string {
  const light = parseColor(color).map(linear);
  const seen = DEFICIENCIES[deficiency].map((row) =>
    encoded(row.reduce((sum, weight, i) => sum + weight * light[i]!, 0)),
  );
  return `rgb(${seen.join(', ')})`;
}
