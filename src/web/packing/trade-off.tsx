/** One line: how often it runs short against what is thrown away. The same numbers stand in the table below. */
import type { PackedPlan } from '../../planning/packing.ts';
import { useChoices } from '../parts/choices.tsx';
import { chanceText } from './format.ts';
import type { PackingWords } from './words.ts';

const WIDTH = 328;
const HEIGHT = 190;
const LEFT = 8;
const BOTTOM = 28;
const TOP = 14;
/** Nobody plans to run short oftener than this: the drawing ends there. */
const MOST_CHANCE = 0.3;

interface Point {
  shortChance: number;
  thrownMl: number;
}

export function TradeOff({ words, plan }: { words: PackingWords; plan: PackedPlan }) {
  const { volume } = useChoices();
  const { outcome, plain, curve, bottles } = plan;
  const shown = curve.filter(({ shortChance }) => shortChance <= MOST_CHANCE);
  const highestMl = 1.12 * Math.max(outcome.thrownMl, ...plain.map((one) => one.outcome.thrownMl), 20);
  const x = ({ shortChance }: Point): number =>
    LEFT + (Math.min(shortChance, MOST_CHANCE) / MOST_CHANCE) * (WIDTH - 2 * LEFT);
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
        {[0.1, 0.2].map((chance) => (
          <g key={chance}>
            <path class="tick" d={`M${x({ shortChance: chance, thrownMl: 0 })} ${foot}v5`} />
            <text x={x({ shortChance: chance, thrownMl: 0 })} y={HEIGHT - 8} text-anchor="middle">
              {100 * chance}
            </text>
          </g>
        ))}
        <text x={WIDTH - LEFT} y={HEIGHT - 8} text-anchor="end">
          {words.shortOn}: {words.days(30)}
        </text>
        <text x={LEFT + 6} y={TOP - 2}>
          {words.thrownAway}: {volume(highestMl)}
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
          <Row name={`● ${words.thisPlan}`} count={bottles.length} point={outcome} words={words} />
          {plain.map((one, i) => (
            <Row
              key={one.name}
              name={`${i === 0 ? '□' : '◇'} ${plainName(one)}`}
              count={one.bottles + (one.spareMl === null ? 0 : 1)}
              point={one.outcome}
              words={words}
            />
          ))}
        </tbody>
      </table>
    </section>
  );
}

interface RowProps {
  name: string;
  count: number;
  point: Point;
  words: PackingWords;
}

function Row({ name, count, point, words }: RowProps) {
  const { volume } = useChoices();
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>{count}</td>
      <td>{volume(point.thrownMl)}</td>
      <td>{chanceText(point.shortChance, words)}</td>
    </tr>
  );
}
