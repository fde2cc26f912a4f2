import type { KeptMilkEvent, MilkEvent } from '../../feed/record/written-by-hand.ts';
import { checked, milkEventSchema } from '../checks.ts';
import { inTransaction } from './database.ts';
import type { FeedDatabase } from './feed-database.ts';

/** Events of the milk ledger: an append-only list. Planning checks their content. */
export class MilkEvents {
  readonly #insert;
  readonly #insertNumbered;
  readonly #since;
  readonly #same;
  readonly #any;

  constructor(private readonly database: FeedDatabase) {
    const columns = 'at_ms, baby_id, container, kind, entry_json';
    this.#insert = database.prepare<{ no: number }>(
      `INSERT INTO milk_event (${columns}) VALUES (?, ?, ?, ?, ?) RETURNING no`,
    );
    this.#insertNumbered = database.prepare<{ no: number }>(
      `INSERT INTO milk_event (${columns}, no) VALUES (?, ?, ?, ?, ?, ?) RETURNING no`,
    );
    this.#any = database.prepare('SELECT no FROM milk_event LIMIT 1');
    this.#same = database.prepare<{ no: number }>(
      `SELECT no FROM milk_event WHERE at_ms = ? AND baby_id IS NOT DISTINCT FROM ? AND container IS NOT DISTINCT FROM ? AND kind = ? AND entry_json = ?
       ORDER BY no LIMIT 1`,
    );
    this.#since = database.prepare<Omit<KeptMilkEvent, 'entry'> & { entry_json: string }>(
      `SELECT no, at_ms AS atMs, baby_id AS babyId, container, kind, entry_json FROM milk_event
       WHERE at_ms >= ? ORDER BY no`,
    );
  }

  /** All of them or none. @throws FieldError that names the event and the field */
  append(events: readonly MilkEvent[], nowMs: number): void {
    const schema = milkEventSchema(nowMs);
    const kept = events.map((event, i) => checked(schema, event, `event ${i + 1}`));
    inTransaction(this.database, () => {
      for (const event of kept) this.#add(event);
    });
  }

  /** Adds one, under its own number if it has one. @returns its number @throws FieldError */
  add(event: MilkEvent, nowMs: number, no: number | null = null): number {
    return this.#add(checked(milkEventSchema(nowMs), event, 'the event'), no);
  }

  isEmpty(): boolean {
    return this.#any.all().length === 0;
  }

  /** @returns the number of an identical event, null if there is none */
  numberOf({ atMs, babyId, container, kind, entry }: MilkEvent): number | null {
    const [same] = this.#same.all(atMs, babyId, container, kind, JSON.stringify(entry));
    return same?.no ?? null;
  }

  #add({ atMs, babyId, container, kind, entry }: MilkEvent, no: number | null = null): number {
    const values = [atMs, babyId, container, kind, JSON.stringify(entry)];
    const [inserted] = no === null ? this.#insert.all(...values) : this.#insertNumbered.all(...values, no);
    return inserted!.no;
  }

  /** In the order of writing. */
  since(sinceMs: number): KeptMilkEvent[] {
    const records = this.#since.all(sinceMs);
    return records.map(({ entry_json, ...event }) => ({ ...event, entry: JSON.parse(entry_json) }));
  }
}
