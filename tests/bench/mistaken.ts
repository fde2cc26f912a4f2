/** `npm run bench -- mistaken [--quick]`: whether 24 mL/min is ever taken for 8 or the other way, over every capture, scenario and hardship. */

import { samplesOf } from '../support/captures.ts';
import { type Mistaken, mistakenFor } from '../support/mistaken.ts';
import { estimatorCases } from './estimator/cases.ts';
import { senseFeed } from './estimator/run-case.ts';
import { type Cell, fixed, printTable } from './table.ts';

/** Longer than this is too long, s. */
const GOAL_SEC = 5;

interface Named extends Mistaken {
  group: string;
  name: string;
}

export function benchMistaken(flags: ReadonlySet<string>): void {
  const all = estimatorCases(flags.has('quick')).map(({ group, name, feed }): Named => {
    const { bytes, calibration, truth } = feed();
    const { moments } = senseFeed(samplesOf(bytes), calibration, false);
    return { group, name, ...mistakenFor(moments, truth) };
  });
  const groups = [...new Set(all.map(({ group }) => group))];
  printTable(
    'A flow of 24 mL/min or more taken for a third of it or less, or the other way',
    [
      'group',
      'feeds',
      `over ${GOAL_SEC} s in good rows`,
      'longest, s',
      `over ${GOAL_SEC} s in any`,
      'longest, s',
    ],
    groups.map((group): Cell[] => {
      const feeds = all.filter((one) => one.group === group);
      const over = (of: 'goodSec' | 'anySec') => feeds.filter((one) => one[of] > GOAL_SEC).length;
      const most = (of: 'goodSec' | 'anySec') => fixed(Math.max(...feeds.map((one) => one[of])), 1);
      return [group, feeds.length, over('goodSec'), most('goodSec'), over('anySec'), most('anySec')];
    }),
  );
  const worst = all.filter(({ anySec }) => anySec > GOAL_SEC).sort((a, b) => b.goodSec - a.goodSec);
  printTable(
    'Each of them',
    ['feed', 'in good rows, s', 'until, s', 'in any, s'],
    worst.map(({ name, goodSec, atSec, anySec }) => [
      name,
      fixed(goodSec, 1),
      fixed(atSec, 0),
      fixed(anySec, 1),
    ]),
  );
}
