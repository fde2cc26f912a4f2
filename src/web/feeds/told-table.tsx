/** A table of texts; on a narrow screen it scrolls inside its own box, also by keyboard. */
import type { ComponentChildren } from 'preact';

export interface ToldTableProps {
  label: string;
  heads: readonly string[];
  rows: readonly { key: string; cells: readonly ComponentChildren[] }[];
  /** On a phone each row becomes a block of its own, so that nothing is cut off. */
  isStacked?: boolean;
}

export function ToldTable({ label, heads, rows, isStacked = false }: ToldTableProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard (axe, scrollable-region-focusable).
    <section class={isStacked ? 'scrolled stacked' : 'scrolled'} tabIndex={0} aria-label={label}>
      <table class="minutes">
        <thead>
          <tr>
            {heads.map((head) => (
              <th scope="col" key={head}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ key, cells: [first, ...rest] }) => (
            <tr key={key}>
              <th scope="row">{first}</th>
              {rest.map((cell, i) => (
                <td key={i} data-head={heads[i + 1]}>
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
