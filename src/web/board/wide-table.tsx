/** A table that scrolls sideways where the page is narrow. */
import type { ComponentChildren } from 'preact';

export interface WideTableProps {
  label: string;
  columns: readonly string[];
  rows: readonly (readonly ComponentChildren[])[];
}

export function WideTable({ label, columns, rows }: WideTableProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls sideways must be reached by keys.
    <section class="wide" tabIndex={0} aria-label={label}>
      <table>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column} scope="col">
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((cells, row) => (
            <tr key={row}>
              {cells.map((cell, i) => (
                <td key={columns[i]} data-head={columns[i]}>
                  {cell}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
