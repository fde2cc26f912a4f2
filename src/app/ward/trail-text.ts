/** Who looked at and changed what, as lines for a terminal. */
import { clockOf, dayOf } from '../../base/calendar.ts';
import type { TrailAnswer } from './ward-answers.ts';

export const trailText = ({ lines, broken }: TrailAnswer, zone: string): string[] => [
  ...lines.map(({ atMs, person, role, act, babyId, more }) =>
    [dayOf(atMs, zone), clockOf(atMs, zone), person, role, act, babyId ?? '', more ?? '']
      .join('  ')
      .trimEnd(),
  ),
  broken === null ? 'The list is whole.' : `The list was changed from line ${broken} on.`,
];

export const markText = (isAsMarked: boolean): string =>
  isAsMarked
    ? 'The line is there as it was printed: up to it nothing was cut off.'
    : 'The line is not there as it was printed: lines were changed or taken away, or the mark was not read right.';
