/** How a message is described, and the type of its values. */
import type { FieldType } from './cursor.ts';

/** One field, or `count` equal ones in a row. `bits`: names of the bits, lowest first. */
export interface FieldSpec {
  readonly name: string;
  readonly type: FieldType;
  readonly count?: number;
  readonly unit: string;
  readonly meaning: string;
  readonly bits?: readonly { readonly name: string; readonly meaning: string }[];
}

export interface MessageSpec {
  /** Command byte, in Firmata's range for user messages (0x01–0x0F). */
  readonly id: number;
  readonly name: string;
  readonly direction: 'sleeve-to-host' | 'host-to-sleeve';
  readonly meaning: string;
  /** The host asks for it by the same command with an empty body. */
  readonly asked?: true;
  readonly fields: readonly FieldSpec[];
}
type Tuple<N extends number, Built extends number[] = []> = Built['length'] extends N
  ? Built
  : Tuple<N, [...Built, number]>;
type FieldValue<F> = F extends { count: infer N extends number } ? Tuple<N> : number;

/** Values of a message: one number per field, a tuple if the field has a count. */
export type MessageValue<M extends MessageSpec> = {
  [F in M['fields'][number] as F['name']]: FieldValue<F>;
};
