/** A table of an export. Times in it are ISO 8601, UTC. */
export type Cell = string | number | null;

/** A table, and its lines for one exported object. */
export interface Table<T> {
  file: string;
  columns: readonly string[];
  lines: (thing: T) => Cell[][];
}

export const time = (atMs: number | null): string | null =>
  atMs === null ? null : new Date(atMs).toISOString();
export const yes = (is: boolean): string => (is ? 'yes' : 'no');
