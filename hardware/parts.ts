/** Parts list: bought parts and made ones, with the masses of their meshes. The CSV and the mass budget are made from it. */
import { BOUGHT, type PartLine } from './bought-parts.ts';
import { BOTTLE } from './design.ts';
import { madeParts } from './shape/assembly.ts';

const MATERIALS = {
  pa12: {
    text: 'PA12, laser-sintered, smoothed or sealed',
    alternatives: 'PETG or ASA filament: heavier, weigh it',
  },
  tpu: { text: 'TPU, Shore 95A or softer, white or clear', alternatives: 'silicone cast in a printed mold' },
  petFilm: { text: 'PET film, 0.4 mm, clear', alternatives: 'polycarbonate film' },
  aluminium: { text: 'aluminum', alternatives: '' },
} as const;

/** Printed and cut parts, with the masses of their meshes. */
export function madeLines(): PartLine[] {
  return madeParts().map(({ name, made, massGrams }) => ({
    part: name,
    rating: MATERIALS[made!.material].text,
    quantity: name === 'liner' ? 2 : 1,
    alternatives: MATERIALS[made!.material].alternatives,
    mustMeet:
      name === 'liner'
        ? `one in use, one in the wash; fits a bottle of Ø ${BOTTLE.diameterMm} mm; material may touch hands and drips, never the milk that is drunk`
        : 'no sharp edges; no loose bits',
    massGrams,
  }));
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
  ]);
  const header = [
    'part',
    'value or rating',
    'quantity',
    'alternatives',
    'must meet',
    'mass in the sleeve (g)',
  ];
  return `${[header, ...rows].map((row) => row.map(field).join(',')).join('\r\n')}\r\n`;
}
