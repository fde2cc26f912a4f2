/**
 * @returns a statement that inserts a line or replaces the one with the same key; `?` for each of `key`, then of `others`
 */
export function replacingSql(table: string, key: readonly string[], others: readonly string[]): string {
  const columns = [...key, ...others];
  const replaced = others.map((name) => `${name} = excluded.${name}`);
  return `INSERT INTO ${table} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})
    ON CONFLICT (${key.join(', ')}) DO UPDATE SET ${replaced.join(', ')}`;
}
