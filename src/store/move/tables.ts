/** The tables and columns of the store, from its schema. */
import { rawDatabase } from '../database/database.ts';
import { MIGRATIONS } from '../database/migrations.ts';

export interface Table {
  name: string;
  /** Stored columns; computed ones are left out. */
  columns: string[];
  /** Key columns, in order. */
  key: string[];
  /** Lines of it can never be removed. */
  isOnlyAddedTo: boolean;
}

/** @returns all tables, each after those that it refers to */
export function storeTables(): Table[] {
  const fresh = rawDatabase(':memory:');
  try {
    for (const step of MIGRATIONS) if (typeof step === 'string') fresh.exec(step);
    const names = "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY rowid";
    return fresh
      .prepare<{ name: string }>(names)
      .all()
      .map(({ name }) => {
        const columns = `PRAGMA table_xinfo(${name})`;
        const all = fresh.prepare<{ name: string; pk: number; hidden: number }>(columns).all();
        const keyed = all.filter(({ pk }) => pk > 0).sort((one, other) => one.pk - other.pk);
        return {
          name,
          columns: all.filter(({ hidden }) => hidden === 0).map((column) => column.name),
          key: keyed.map((column) => column.name),
          isOnlyAddedTo: MIGRATIONS.some((step) => typeof step === 'object' && step.onlyAddedTo === name),
        };
      });
  } finally {
    fresh.close();
  }
}
