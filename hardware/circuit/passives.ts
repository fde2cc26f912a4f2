/** Resistors and capacitors of the circuit, and the boards that most parts sit on. */
import type { CircuitPart, CircuitPin } from './types.ts';

/** The boards that most parts sit on. */
export const CHIP = 'chip board';
export const POWER = 'power board';

export const passive = (...names: string[]): CircuitPin[] =>
  names.map((name) => ({ name, kind: 'passive' as const }));

export const resistor = (ref: string, ohms: number, role: string, on: string): CircuitPart => ({
  ref,
  kind: 'resistor',
  role,
  value: ohms >= 1000 ? `${ohms / 1000} kΩ, 1 %` : `${ohms} Ω, 5 %`,
  ohms,
  pins: passive('1', '2'),
  on,
});
const pfText = (pf: number) =>
  pf >= 1e6 ? `${pf / 1e6} µF, 10 V` : pf >= 1000 ? `${pf / 1000} nF` : `${pf} pF, C0G`;

export const capacitor = (ref: string, picofarads: number, role: string, on: string): CircuitPart => ({
  ref,
  kind: 'capacitor',
  role,
  value: pfText(picofarads),
  picofarads,
  pins: passive('1', '2'),
  on,
});
