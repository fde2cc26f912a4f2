/** When the live page leads on to the end of a feed. */
import { expect, it } from 'vitest';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import { stepEnding } from '../../src/web/after/end-of-feed.ts';
import { viewOf } from '../support/fake-live.ts';

/** @returns for each view the feed whose end was seen, or null */
function seen(...views: Partial<LiveView>[]): (string | null)[] {
  let openId: string | null = null;
  return views.map((view) => {
    const ending = stepEnding(openId, viewOf(view));
    openId = ending.openId;
    return ending.endedId;
  });
}
const OPEN = { feedState: 'open', feedId: 'feed-2' } as const;
const ENDED = { feedState: 'ended', feedId: 'feed-2' } as const;

it('leads on once, when the feed that was open has ended', () => {
  expect(seen(OPEN, OPEN, ENDED, ENDED)).toEqual([null, null, 'feed-2', null]);
});

it('leads nowhere from a feed that ended before the page was opened, nor from one left out', () => {
  expect(seen(ENDED, ENDED)).toEqual([null, null]);
  expect(seen(OPEN, { ...ENDED, feedState: 'discarded' }, ENDED)).toEqual([null, null, null]);
});

it('waits while the end is in memory alone: there is nothing to see yet', () => {
  const unkept = { ...ENDED, unkept: ['feed-2'] };
  expect(seen(OPEN, unkept, unkept, ENDED)).toEqual([null, null, null, 'feed-2']);
});

it('forgets a feed that another one followed unseen', () => {
  expect(seen(OPEN, { feedState: 'ended', feedId: 'feed-3' })).toEqual([null, null]);
});
