/** What a step of the bring-up checklist is. Types only. */

export type CellName = 'axial' | 'front' | 'rear';

/** A limit on one measured number; `least` and `greatest` are themselves allowed. */
export interface Limit {
  readonly what: string;
  readonly unit: string;
  readonly least?: number;
  readonly greatest?: number;
  readonly source: string;
}

interface StepBase {
  readonly id: string;
  readonly title: string;
  /** What the person does, before and while samples are taken. */
  readonly doThis: string;
  /** How long to take samples, s; 0 where a person answers or types instead. */
  readonly seconds: number;
  readonly limits: readonly Limit[];
  /** What to look at when it fails. */
  readonly ifItFails: string;
}

export type CheckStep = StepBase &
  (
    | { readonly kind: 'supply' | 'rate' | 'lost' | 'together' | 'faults' | 'button' }
    | { readonly kind: 'noise' | 'press'; readonly cell: CellName }
    | { readonly kind: 'long-rest' | 'delay' | 'warmth' }
    /** A known mass put on while samples are taken, and left; it rests on these cells. */
    | { readonly kind: 'creep'; readonly cells: readonly CellName[]; readonly massGrams: number }
    /** Presses on a kitchen scale, each harder than the one before, about so many grams more than at rest. */
    | { readonly kind: 'stops'; readonly cell: CellName; readonly pressesGrams: readonly number[] }
    | { readonly kind: 'pose'; readonly expected: readonly [number, number, number] }
    | { readonly kind: 'turn'; readonly about: 'y' | 'z' }
    | { readonly kind: 'look'; readonly question: string; readonly show: 'light' | 'white' | 'buzzer' }
    | { readonly kind: 'kitchen'; readonly waterDegC: number; readonly waterGramsPerMl: number }
  );
