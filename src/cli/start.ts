/** `ebbline start`: joins a sleeve, the live feed, the store and the page, until Ctrl-C. */
import { join } from 'node:path';
import { createSleeveBoard } from '../../firmware-bridge/board.ts';
import { type Aside, createAside } from '../app/aside/aside.ts';
import { notesText } from '../app/calibration/kept-calibrations.ts';
import { checkStore } from '../app/kept/check-store.ts';
import { familyZone, takeZoneOf } from '../app/kept/family-zone.ts';
import { EXIT_NOT_KEPT, keepTrying, type Unkept } from '../app/kept/keep-trying.ts';
import { settling } from '../app/kept/settling.ts';
import { calibrationsBeside, describeTechnique, markedPractice } from '../app/practice/practice.ts';
import { keptNotes } from '../app/sleeve/checked-feeds.ts';
import { checkSleeveChoice, chosenSleeve, isSimulated } from '../app/sleeve/chosen-sleeve.ts';
import { fetchAloneFeeds } from '../app/sleeve/fetched-alone.ts';
import { ownerKeyIn } from '../app/sleeve/owner-key.ts';
import type { SleeveChoice } from '../app/sleeve/sleeves.ts';
import { watchedFeed } from '../app/sleeve/watched-feed.ts';
import { bindSessions } from '../app/study/study-feeds.ts';
import { STUDY_CLOCK, studiesIn } from '../app/study/study-folder.ts';
import { PlainError } from '../base/errors.ts';
import { SOFTWARE_VERSION } from '../base/version.ts';
import type { LiveFeed } from '../feed/live/live.ts';
import type { LiveView } from '../feed/live/live-view.ts';
import { createServer, type ServerOptions } from '../server/server.ts';
import type { ShareDoor } from '../server/share-door.ts';
import { dataFolder } from '../store/data-folder.ts';
import { type FeedStore, openStore } from '../store/feed-store.ts';
import { pageServices } from './page-services.ts';
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
  /** With a doll and water: what is kept goes to a folder of its own. */
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
  const closing: (() => unknown)[] = [() => store.close()];
  const closeAll = async () => {
    for (const close of closing.splice(0).reverse()) await close();
  };
  try {
    if (folder !== family) takeZoneOf(family, store);
    const aside = createAside({ folder });
    closing.push(() => aside.close());
    const after = settling(store, aside);
    finishInterrupted(store);
    sayFindings(folder);
    for (const feedId of store.unsettled()) after.settle(feedId);
    const sleeve = await chosenSleeve(options, options.practice ? calibrationsBeside(home, store) : store);
    closing.push(() => sleeve.link.close());
    const board = createSleeveBoard(sleeve.link);
    closing.push(() => board.close());
    const notes = keptNotes(store, sleeve.sleeveId, sleeve.calibration);
    const pages = { open: 0 };
    const live = watchedFeed(
      { simulated, practice: options.practice ?? false, folder },
      store,
      sleeve,
      board,
      notes,
      pages,
    );
    closing.push(() => live.stop());
    if (!options.practice) {
      const bound = bindSessions(live, {
        studies: studiesIn(folder),
        clock: STUDY_CLOCK,
        say: (text) => process.stderr.write(`ebbline: ${text}\n`),
      });
      closing.push(() => bound.unsubscribe());
    }
    if (!options.practice) {
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
    const server = await createServer(pageOf(options, store, folder, aside, live, door, pages));
    closing.push(() => server.close());
    let unkept: Unkept = { feedIds: [], notice: null };
    const over = new Set<string>();
    const seen = live.view$.subscribe((view) => {
      // Over, and nothing of it waits any more.
      for (const feedId of endedIn(view)) if (!over.has(feedId)) after.settle(feedId);
      for (const feedId of endedIn(view)) over.add(feedId);
      unkept = { feedIds: view.unkept ?? [], notice: view.notice };
    });
    closing.push(() => seen.unsubscribe());
    const lines = terminalLines(live.view$, { quiet: options.quiet ?? false });
    closing.push(() => lines.unsubscribe());
    // Listened for before the greeting: whoever has read it may ask at once.
    const stop = stopSignals();
    process.stdout.write(greeting(options, server.url, folder, sleeve.link.label));
    if (familyZone(store).asks) process.stdout.write(ZONE_ASKED);
    process.stdout.write(notesText(sleeve.calibration, notes.read(), new Date().toISOString()));
    if (door) closing.push(shareFromTerminal(door).close);
    board.ready.catch(sayBoardTrouble);
    await stop.first;
    live.stop();
    const isKept = await keepTrying(live, {
      unkept: () => unkept,
      nextSecond: stop.nextSecond,
      say: (text) => process.stderr.write(text),
    });
    await after.done();
    stop.letGo();
    await closeAll();
    process.exit(isKept ? 0 : EXIT_NOT_KEPT);
  } catch (error) {
    await closeAll();
    throw error;
  }
}

/** What the page is served from; in practice it knows no babies. */
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
  // Stopped before it was ready: that is no trouble.
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

/** Feeds that a killed process or a power cut left open are over; their refined pass is made aside, from the capture. */
function finishInterrupted(store: FeedStore): void {
  for (const feed of store.unfinished()) {
    const when = new Date(feed.startedAtMs).toLocaleString('en-US');
    try {
      store.recover(feed.id, null);
      process.stdout.write(`The feed of ${when} was interrupted; it is kept as far as it went.\n`);
    } catch (error) {
      // A baby that waits now is not kept waiting for it.
      if (!(error instanceof PlainError)) throw error;
      process.stderr.write(
        `The feed of ${when} was interrupted and cannot be put in order now: ${error.text} It is tried again at the next start.\n`,
      );
    }
  }
}

/** What a short look at the folder finds that a person should know; housekeeping sees to the rest. */
function sayFindings(folder: string): void {
  try {
    const grave = checkStore(folder, false).findings.filter(({ kind }) => TO_BE_SAID.has(kind));
    for (const { what } of grave.slice(0, 3)) process.stderr.write(`ebbline: ${what}\n`);
    if (grave.length > 0) process.stderr.write('ebbline: see all of it with: ebbline data check\n');
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    process.stderr.write(`ebbline: ${error.text}\n`);
  }
}

const TO_BE_SAID: ReadonlySet<string> = new Set([
  'database-damaged',
  'database-foreign',
  'capture-without-feed',
  'feed-without-capture',
]);

/** @returns the feed that is over and kept, if it is one */
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
