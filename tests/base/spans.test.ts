import { expect, it } from 'vitest';
import { spanOf } from '../../src/base/spans.ts';

it.each([
  [1, 1, 'hours'],
  [24, 24, 'hours'],
  [96, 4, 'days'],
  [24 * 59, 59, 'days'],
  [24 * 90, 90, 'days'],
  [24 * 182, 6, 'months'],
  [24 * 365, 12, 'months'],
])('%d hours are said as %d %s', (hours, count, unit) => {
  expect(spanOf(hours)).toEqual({ count, unit });
});
