/** `ebbline start`: joins a sleeve, the live feed, the store and the page, until Ctrl-C. */
import { join } from 'node:path';
import { createSleeveBoard } from '../../firmware-bridge/board.ts';
import { type Aside, createAside } from '../app/aside/aside.ts';
import { historyText } from '../app/calibration/kept-calibrations.ts';
import { familyZone, takeZoneOf } from '../app/kept/family-zone.ts';
import { EXIT_NOT_KEPT, keepTrying, type Unkept } from '../app/kept/keep-trying.ts';
import { settling } from '../app/kept/settling.ts';
import { finishInterrupted, sayFindings } from '../app/kept/start-up.ts';
import { pageServices } from '../app/page-services.ts';
import { calibrationsBeside, describeTechnique, markedPractice } from '../app/practice/practice.ts';
import { keptHistory } from '../app/sleeve/checked-feeds.ts';
import { checkSleeveChoice, chosenSleeve, isSimulated } from '../app/sleeve/chosen-sleeve.ts';
import { fetchAloneFeeds } from '../app/sleeve/fetched-alone.ts';
import { ownerKeyIn } from '../app/sleeve/owner-key.ts';
import type { SleeveChoice } from '../app/sleeve/sleeves.ts';
import { watchedFeed } from '../app/sleeve/watched-feed.ts';
import { bindSessions } from '../app/study/study-feeds.ts';
import { STUDY_CLOCK, studiesAmong } from '../app/study/study-folder.ts';
import { SOFTWARE_VERSION } from '../base/version.ts';
import type { LiveFeed } from '../feed/live/live.ts';
import type { LiveView } from '../feed/live/live-view.ts';
import { createServer, type ServerOptions } from '../server/server.ts';
import type { ShareDoor } from '../server/share-door.ts';
import { dataFolder } from '../store/data-folder.ts';
import { type FeedStore, openStore } from '../store/feed-store.ts';
import { closingAll } from './closing.ts';
import { say, sayJson } from './print-out.ts';
import { shareDoor, shareFromTerminal } from './share.ts';
import { stopSignals } from './stop-signals.ts';
import { terminalLines } from './terminal.ts';

export interface StartOptions extends SleeveChoice {
  pagePort: number;
  listScenarios?: boolean;
  /** The list of simulated feeds as JSON. */
  json?: boolean;
  quiet?: boolean;
  /** Opens the page to the home network, at this address or at the only one there is. */
  share?: string | true;
  /** Practice with a doll and water: feeds are stored in a folder of their own. */
  practice?: boolean;
}

export async function start(options: StartOptions): Promise<void> {
  if (options.listScenarios) return listScenarios(options);
  const simulated = isSimulated(options);
  checkSleeveChoice(options);
  const door = options.share === undefined ? null : shareDoor(options.share);
  const family = dataFolder({ simulated: false });
  const home = dataFolder({ simulated });
  const folder = options.practice ? join(home, 'practice') : home;
  const store = openStore(folder, {
    recording: true,
    softwareVersion: SOFTWARE_VERSION,
    packsLater: true,
  });
  const isKept = await closingAll(async (closing) => {
    closing.push(() => store.close());
    if (folder !== family) takeZoneOf(family, store);
    const aside = createAside({ folder });
    closing.push(() => aside.close());
    const after = settling(store, aside);
    finishInterrupted(store);
    sayFindings(folder);
    for (const feedId of store.unsettled()) after.settle(feedId);
    const pages = { open: 0 };
    const { live, board, sleeve, history } = await watched(options, { home, folder, store, pages }, closing);
    const server = await createServer(pageOf(options, store, folder, aside, live, door, pages));
    closing.push(() => server.close());
    const ended = settleEnded(live, after);
    closing.push(ended.close);
    const lines = terminalLines(live.view$, { quiet: options.quiet ?? false });
    closing.push(() => lines.unsubscribe());
    // Signals are handled before the greeting, since whoever reads it may stop the program at once.
    const stop = stopSignals();
    process.stdout.write(greeting(options, server.url, folder, sleeve.link.label));
    if (familyZone(store).asks) process.stdout.write(ZONE_ASKED);
    process.stdout.write(historyText(sleeve.calibration, history.read(), new Date().toISOString()));
    if (door) closing.push(shareFromTerminal(door).close);
    board.ready.catch(sayBoardTrouble);
    await stop.first;
    live.stop();
    const allKept = await keepTrying(live, {
      unkept: ended.unkept,
      nextSecond: stop.nextSecond,
      say: (text) => process.stderr.write(text),
    });
    await after.done();
    stop.letGo();
    return allKept;
  });
  process.exit(isKept ? 0 : EXIT_NOT_KEPT);
}

/** The sleeve with its board, and the live feed on it; feeds of a study are bound to it as they end. */
async function watched(
  options: StartOptions,
  where: { home: string; folder: string; store: FeedStore; pages: { open: number } },
  closing: (() => unknown)[],
) {
  const { home, folder, store, pages } = where;
  const practice = options.practice ?? false;
  const sleeve = await chosenSleeve(options, practice ? calibrationsBeside(home, store) : store);
  closing.push(() => sleeve.link.close());
  const board = createSleeveBoard(sleeve.link);
  closing.push(() => board.close());
  const history = keptHistory(store, sleeve.sleeveId, sleeve.calibration);
  const simulated = isSimulated(options);
  const live = watchedFeed({ simulated, practice }, store, sleeve, board, history, pages);
  closing.push(() => live.stop());
  if (!practice) {
    const bound = bindSessions(live, {
      studies: studiesAmong(store.files),
      clock: STUDY_CLOCK,
      say: (text) => process.stderr.write(`ebbline: ${text}\n`),
    });
    closing.push(() => bound.unsubscribe());
    const fetching = fetchAloneFeeds({
      link: sleeve.link,
      owner: ownerKeyIn(folder),
      store,
      wallNowMs: Date.now,
      onKept: sayFetched,
    });
    closing.push(() => fetching.unsubscribe());
  }
  sleeve.onOther?.((other) => {
    live.changeSleeve(other);
    if (other === null) return;
    process.stdout.write(
      `Another sleeve is connected now, number ${other.sleeveId}; its own calibration is taken.\n`,
    );
  });
  return { live, board, sleeve, history };
}

/** Finishes each feed that has ended and for which no data is waiting; knows what is waiting. */
function settleEnded(live: LiveFeed, after: ReturnType<typeof settling>) {
  let unkept: Unkept = { feedIds: [], notice: null };
  const over = new Set<string>();
  const seen = live.view$.subscribe((view) => {
    for (const feedId of endedIn(view)) if (!over.has(feedId)) after.settle(feedId);
    for (const feedId of endedIn(view)) over.add(feedId);
    unkept = { feedIds: view.unkept ?? [], notice: view.notice };
  });
  return { unkept: () => unkept, close: () => seen.unsubscribe() };
}

/** Data for the page; in practice it has no babies. */
function pageOf(
  { practice, pagePort }: StartOptions,
  store: FeedStore,
  folder: string,
  aside: Aside,
  live: LiveFeed,
  door: ShareDoor | null,
  pages: { open: number },
): ServerOptions {
  const { babies, ...ofAll } = pageServices(store, folder, aside, () =>
    live.command({ kind: 'setup', setup: store.readSetup() }),
  );
  return {
    live: practice ? markedPractice(live) : live,
    ...(practice ? ofAll : { babies, ...ofAll }),
    technique: describeTechnique,
    port: pagePort,
    onPages: (count) => {
      pages.open = count;
    },
    ...(door && { door }),
  };
}

function sayBoardTrouble(error: { code?: string; text?: string }): void {
  // Stopped before it was ready: no error.
  if (error.code === 'board-closed') return;
  process.stderr.write(`ebbline: ${error.text ?? String(error)}\n`);
}

const sayFetched = (count: number): void => {
  process.stdout.write(
    `${count === 1 ? 'One feed' : `${count} feeds`} by the sleeve alone, while no computer guided, fetched and kept: see Feeds on the page.\n`,
  );
};

const ZONE_ASKED =
  'This computer’s clock is on UTC. Choose your time zone on the page, under Feeds, or with "ebbline data time-zone America/Chicago".\n';

/** @returns the last feed, if it has ended and is stored */
const endedIn = ({ feedId, feedState, unkept = [] }: LiveView): string[] =>
  feedId !== null && (feedState === 'ended' || feedState === 'discarded') && !unkept.includes(feedId)
    ? [feedId]
    : [];

const greeting = (options: StartOptions, url: string, folder: string, label: string): string =>
  [
    isSimulated(options)
      ? 'No --port was given: Ebbline watches a simulated feed; nothing here is a real baby.'
      : `Ebbline watches the sleeve on ${label}.`,
    ...(isSimulated(options) && !options.practice
      ? ['A real sleeve: ebbline start --port DEVICE. Your kept real feeds, without a sleeve: ebbline open.']
      : []),
    ...(options.practice ? ['Practice, with a doll and water: none of it stands among real feeds.'] : []),
    `Page for the caregiver:  ${url}`,
    `Feeds are kept in:       ${folder}`,
    'Not a medical device or an alarm. Watch the baby, not the sleeve. Stop with Ctrl-C.',
    '',
  ].join('\n');

async function listScenarios({ json }: Pick<StartOptions, 'json'>): Promise<void> {
  const { SCENARIOS } = await import('../simulation/scenarios.ts');
  const scenarios = Object.entries(SCENARIOS).map(([name, { about }]) => ({ name, about }));
  if (json) sayJson(scenarios);
  else say(scenarios.map(({ name, about }) => `${name.padEnd(15)} ${about}`));
}
