import type { KeptMilkEvent, MilkEvent } from '../feed/kept.ts';
import { checked, milkEventSchema } from './checks.ts';
import type { FeedDatabase } from './database.ts';
import { inTransaction } from './database.ts';

/** What happened to milk: a list that is only added to. What an event may say is planning's to check. */
export class MilkEvents {
  readonly #insert;
  readonly #since;

  constructor(private readonly database: FeedDatabase) {
    this.#insert = database.prepare(
      'INSERT INTO milk_event (at_ms, baby_id, container, kind, entry_json) VALUES (?, ?, ?, ?, ?)',
    );
    this.#since = database.prepare(
      `SELECT no, at_ms AS atMs, baby_id AS babyId, container, kind, entry_json FROM milk_event
       WHERE at_ms >= ? ORDER BY no`,
    );
  }

  /** All of them or none. @throws FieldError that names the event and the field */
  append(events: readonly MilkEvent[], nowMs: number): void {
    const schema = milkEventSchema(nowMs);
    const kept = events.map((event, i) => checked(schema, event, `event ${i + 1}`));
    inTransaction(this.database, () => {
      for (const { atMs, babyId, container, kind, entry } of kept) {
        this.#insert.run(atMs, babyId, container, kind, JSON.stringify(entry));
      }
    });
  }

  /** In the order of writing. */
  since(sinceMs: number): KeptMilkEvent[] {
    const records = this.#since.all(sinceMs) as (Omit<KeptMilkEvent, 'entry'> & { entry_json: string })[];
    return records.map(({ entry_json, ...event }) => ({ ...event, entry: JSON.parse(entry_json) }));
  }
}
