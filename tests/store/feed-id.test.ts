import { expect, test } from 'vitest';
import { isSafeFeedId, newFeedId } from '../../src/store/database/feed-id.ts';
import { seededRandom } from '../support/random.ts';

test('an id names the UTC start and sorts by it', () => {
  const random = seededRandom(1);
  const at = [0, 1, 59_000, 3_600_000, 86_400_000 * 40, 86_400_000 * 400].map(
    (laterMs) => Date.UTC(2026, 0, 5, 9, 0, 7) + laterMs,
  );
  const ids = at.map((startedAtMs) => newFeedId(startedAtMs, random));
  expect(ids[0]).toMatch(/^20260105-090007-[2-9b-z]{4}$/);
  expect([...ids.slice(2)].sort()).toEqual(ids.slice(2));
  expect(ids.every(isSafeFeedId)).toBe(true);
});

test('feeds that start in the same second get different ids', () => {
  const random = seededRandom(7);
  const ids = Array.from({ length: 100 }, () => newFeedId(0, random));
  expect(new Set(ids).size).toBe(100);
});

test('the ends of the random range stay inside the alphabet', () => {
  expect(newFeedId(0, () => 0)).toBe('19700101-000000-2222');
  expect(newFeedId(0, () => 1 - Number.EPSILON)).toBe('19700101-000000-zzzz');
});

test.each(['', '../etc', 'a/b', 'A', 'a.cap', '-a', 'a'.repeat(65)])('%j is no safe id', (id) => {
  expect(isSafeFeedId(id)).toBe(false);
});
