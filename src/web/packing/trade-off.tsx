/** One curve: how often milk runs short against how much is thrown away. The table below has the same numbers. */

import { quarterFlOzText } from '../../base/units.ts';
import type { PackedPlan } from '../../planning/bag/told-plan.ts';
import { useChoices } from '../parts/choices.tsx';
import { chanceAxisEnd } from './format.ts';
import type { PackingWords } from './words.ts';

const WIDTH = 328;
const HEIGHT = 214;
const LEFT = 10;
const BOTTOM = 46;
const TOP = 20;
interface Point {
  shortChance: number;
  thrownMl: number;
}

export function TradeOff({ words, plan }: { words: PackingWords; plan: PackedPlan }) {
  const { volume } = useChoices();
  const amount = useAmount();
  const { outcome, plain, curve, bottles } = plan;
  const chancesOf = (points: readonly Point[]): number[] => points.map(({ shortChance }) => shortChance);
  const widest = chanceAxisEnd(chancesOf([outcome, ...plain.map((one) => one.outcome)]), chancesOf(curve));
  const shown = curve.filter(({ shortChance }) => shortChance <= widest);
  const highestMl = 1.12 * Math.max(outcome.thrownMl, ...plain.map((one) => one.outcome.thrownMl), 20);
  const x = ({ shortChance }: Point): number => LEFT + (shortChance / widest) * (WIDTH - 2 * LEFT);
  const y = ({ thrownMl }: Point): number =>
    TOP + (1 - Math.min(thrownMl, highestMl) / highestMl) * (HEIGHT - TOP - BOTTOM);
  const foot = HEIGHT - BOTTOM;
  const plainName = (one: (typeof plain)[number]): string => words.plain[one.name](volume(one.sizeMl));
  return (
    <section aria-labelledby="trade-heading" class="trade">
      <h2 id="trade-heading">{words.trade}</h2>
      <p class="soft">{words.tradeSay}</p>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={words.trade}>
        <path class="axis" d={`M${LEFT} ${TOP}V${foot}H${WIDTH - LEFT}`} />
        {[0, 1, 2].map((third) => {
          const at = (third / 2) * widest;
          const tickX = x({ shortChance: at, thrownMl: 0 });
          return (
            <g key={third}>
              <path class="tick" d={`M${tickX} ${foot}v5`} />
              <text x={tickX} y={foot + 19} text-anchor={(['start', 'middle', 'end'] as const)[third]}>
                {Math.round(100 * at)}
              </text>
            </g>
          );
        })}
        <text x={WIDTH - LEFT} y={HEIGHT - 6} text-anchor="end">
          {words.shortOn} →
        </text>
        <text x={LEFT} y={TOP - 8}>
          ↑ {words.thrownAway}: {amount(highestMl)}
        </text>
        <polyline class="line" points={shown.map((point) => `${x(point)},${y(point)}`).join(' ')} />
        {plain.map((one, i) => (
          <rect
            key={one.name}
            class={i === 0 ? 'plain-one' : 'plain-two'}
            x={x(one.outcome) - 6}
            y={y(one.outcome) - 6}
            width={12}
            height={12}
            transform={i === 0 ? undefined : `rotate(45 ${x(one.outcome)} ${y(one.outcome)})`}
          />
        ))}
        <circle class="this-plan" cx={x(outcome)} cy={y(outcome)} r={8} />
      </svg>
      <table class="minutes">
        <thead>
          <tr>
            <th scope="col">{words.way}</th>
            <th scope="col">{words.bottles}</th>
            <th scope="col">{words.thrownAway}</th>
            <th scope="col">{words.shortOn}</th>
          </tr>
        </thead>
        <tbody>
          <Row name={`● ${words.thisPlan}`} count={bottles.length} point={outcome} />
          {plain.map((one, i) => (
            <Row
              key={one.name}
              name={`${i === 0 ? '□' : '◇'} ${plainName(one)}`}
              count={one.bottles}
              point={one.outcome}
            />
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** A narrow column has room only for the chosen unit. */
function useAmount(): (ml: number) => string {
  const { unit } = useChoices();
  return (ml) => (unit === 'ml' ? `${Math.round(ml)} mL` : `${quarterFlOzText(ml)} fl oz`);
}

interface RowProps {
  name: string;
  count: number;
  point: Point;
}

function Row({ name, count, point }: RowProps) {
  const amount = useAmount();
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>{count}</td>
      <td>{amount(point.thrownMl)}</td>
      <td>{point.shortChance < 0.005 ? '< 1' : Math.round(100 * point.shortChance)}</td>
    </tr>
  );
}
