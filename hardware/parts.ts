/** Parts list: bought parts and made ones, with the masses of their meshes. The CSV and the mass budget are made from it. */

import { BOUGHT, type PartLine } from './bought-parts.ts';
import { BOTTLE, DENSITY, type HardMaterial, SMALL_BOTTLE } from './design.ts';
import { priceOf } from './prices.ts';
import { madeParts } from './shape/assembly.ts';

const MATERIALS: Record<keyof typeof DENSITY, { text: string; alternatives: string }> = {
  pa12: {
    text: 'PA12, laser-sintered, smoothed or sealed',
    alternatives:
      'ASA filament, all lines walls: the mass budget holds too; PETG makes the sleeve heavier than 150 g',
  },
  asa: { text: 'ASA filament, all lines walls', alternatives: 'PA12, laser-sintered' },
  petg: { text: 'PETG filament, all lines walls', alternatives: 'PA12 or ASA: lighter' },
  tpu: { text: 'TPU, Shore 95A or softer, white or clear', alternatives: 'silicone cast in a printed mold' },
  petFilm: { text: 'PET film, 0.25 mm, clear', alternatives: 'polycarbonate film' },
  aluminium: { text: 'aluminum', alternatives: '' },
};

const MUST_MEET: Readonly<Record<string, string>> = {
  liner: `fits a bottle of Ø ${BOTTLE.diameterMm} mm and ${BOTTLE.bodyHeightMm} mm of straight side; material may touch hands and drips, never the milk that is drunk`,
  'small cup': `in place of the liner, for a bottle of Ø ${SMALL_BOTTLE.diameterMm} mm and ${SMALL_BOTTLE.bodyHeightMm} mm of straight side; its own calibration`,
};

/** Printed and cut parts, with the masses of their meshes; the hard ones in one of the materials. */
export function madeLines(hard: HardMaterial = 'pa12'): PartLine[] {
  return madeParts().map(({ name, made, massGrams }) => {
    const material = made!.material === 'pa12' ? hard : made!.material;
    return {
      part: name,
      rating: MATERIALS[material].text,
      quantity: name === 'liner' ? 2 : 1,
      alternatives: MATERIALS[material].alternatives,
      mustMeet: MUST_MEET[name] ?? 'no sharp edges; no loose bits',
      massGrams: (massGrams * DENSITY[material]) / DENSITY[made!.material],
    };
  });
}

export const allParts = (): PartLine[] => [...BOUGHT, ...madeLines()];

const field = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** @returns the parts list as CSV (RFC 4180, UTF-8, one header row) */
export function partsCsv(): string {
  const rows = allParts().map((p) => [
    p.part,
    p.rating,
    String(p.quantity),
    p.alternatives,
    p.mustMeet,
    p.massGrams === 0 ? '' : p.massGrams.toFixed(1),
    priceOf(p.part).join(' to '),
  ]);
  const header = [
    'part',
    'value or rating',
    'quantity',
    'alternatives',
    'must meet',
    'mass in the sleeve (g)',
    'rough price (US dollars)',
  ];
  return `${[header, ...rows].map((row) => row.map(field).join(',')).join('\r\n')}\r\n`;
}
