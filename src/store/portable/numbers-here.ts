import type { MilkEvent } from '../../feed/record/written-by-hand.ts';

/** What has one number in a file may have another one here: babies that are kept here already, and milk events that come in. */
export class NumbersHere {
  readonly #babyIds = new Map<string, string>();
  readonly #milkNumbers = new Map<number, number>();

  babyIs(idInFile: string, idHere: string): void {
    this.#babyIds.set(idInFile, idHere);
  }

  milkIs(noInFile: number, noHere: number): void {
    this.#milkNumbers.set(noInFile, noHere);
  }

  /** The same entry with the id that the baby has here. */
  ofBaby<T extends { babyId?: string | null | undefined }>(entry: T): T {
    const here = entry.babyId ? this.#babyIds.get(entry.babyId) : undefined;
    return here === undefined ? entry : { ...entry, babyId: here };
  }

  /** The same; an entry that takes another one back names its number. */
  ofMilk(event: MilkEvent): MilkEvent {
    const { entry } = event;
    const no = typeof entry === 'object' && entry !== null && 'no' in entry ? entry.no : undefined;
    const here = typeof no === 'number' ? this.#milkNumbers.get(no) : undefined;
    return this.ofBaby(here === undefined ? event : { ...event, entry: { ...Object(entry), no: here } });
  }
}
