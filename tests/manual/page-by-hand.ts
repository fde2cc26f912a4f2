/**
 * The page on a feed that goes through every state, eight seconds each, for trying it on a phone-sized window.
 *
 *   npx tsx tests/manual/page-by-hand.ts
 */
import { feedGraphPng, feedGraphSvg } from '../../src/review/index.ts';
import { createServer, DEFAULT_PAGE_PORT } from '../../src/server/server.ts';
import { builtPage } from '../support/browser.ts';
import { FakeLive, viewOf } from '../support/fake-live.ts';
import { feedReader, keptFeed } from '../support/kept-feeds.ts';
import { PAGE_STATES, SHOWINGS } from '../support/page-states.ts';
import { reviewOf } from '../support/review-service.ts';

const STATE_SEC = 8;
const page = builtPage();
const live = new FakeLive();
const server = await createServer({
  live,
  feeds: feedReader(),
  review: reviewOf([keptFeed()], Date.now()),
  graph: feedGraphSvg,
  png: feedGraphPng,
  webFolder: page.folder,
  port: DEFAULT_PAGE_PORT,
});
console.log(`${server.url}  (Ctrl-C ends it)`);

let turn = 0;
const nextState = () => {
  const showing = SHOWINGS[turn++ % SHOWINGS.length]!;
  const { muted, dimmed } = live.view$.value;
  live.view$.next(viewOf({ showing, ...PAGE_STATES[showing], muted, dimmed }));
};
nextState();
const timers = [setInterval(nextState, STATE_SEC * 1000), setInterval(() => live.repeat(), 400)];
process.once('SIGINT', async () => {
  for (const timer of timers) clearInterval(timer);
  await server.close();
  page.remove();
});
