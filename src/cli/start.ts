/** `ebbline start`: joins a sleeve, the live feed, the store and the page, until Ctrl-C. */
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { createSleeveBoard } from '../../firmware-bridge/board.ts';
import { babyService, guideFrom } from '../app/babies/babies-service.ts';
import { familySurroundings, familyZone } from '../app/kept/family-zone.ts';
import { EXIT_NOT_KEPT, keepTrying, type Unkept } from '../app/kept/keep-trying.ts';
import { keptService } from '../app/kept/kept-service.ts';
import { packingService } from '../app/packing/packing-service.ts';
import { calibrationsBeside, describeTechnique, markedPractice } from '../app/practice/practice.ts';
import { reviewService } from '../app/review/review-service.ts';
import { boardOutputs } from '../app/sleeve/board-outputs.ts';
import { checkedFeeds, keptNotes } from '../app/sleeve/checked-feeds.ts';
import { refinedFromCapture } from '../app/sleeve/recovery.ts';
import { type SleeveChoice, serialSleeve, softwareSleeve } from '../app/sleeve/sleeves.ts';
import { PlainError } from '../base/errors.ts';
import { SOFTWARE_VERSION } from '../base/version.ts';
import { learnedCalibration } from '../calibration/walk/notes.ts';
import { createLiveFeed } from '../feed/live/live.ts';
import { sessionGraphPngFromSvg, sessionGraphSvg } from '../review/index.ts';
import { createServer } from '../server/server.ts';
import { dataFolder } from '../store/data-folder.ts';
import { newFeedId } from '../store/database/feed-id.ts';
import { type FeedStore, openStore } from '../store/feed-store.ts';
import { notesText } from './calibrate/calibration-notes.ts';
import { shareDoor, shareFromTerminal } from './share.ts';
import { terminalLines } from './terminal.ts';

export interface StartOptions extends SleeveChoice {
  pagePort: number;
  listScenarios?: boolean;
  quiet?: boolean;
  /** Opens the page to the home network, at this address or at the only one there is. */
  share?: string | true;
  /** With a doll and water: what is kept goes to a folder of its own. */
  practice?: boolean;
}

export async function start(options: StartOptions): Promise<void> {
  if (options.listScenarios) return listScenarios();
  const simulated = options.port === undefined;
  const door = options.share === undefined ? null : shareDoor(options.share);
  if (simulated) refuseUnusedCalibration(options);
  const home = dataFolder({ simulated });
  const folder = options.practice ? join(home, 'practice') : home;
  const store = openStore(folder, { recording: true, softwareVersion: SOFTWARE_VERSION });
  const closing: (() => unknown)[] = [() => store.close()];
  const closeAll = async () => {
    for (const close of closing.splice(0).reverse()) await close();
  };
  try {
    finishInterrupted(store);
    const sleeve = simulated
      ? await softwareSleeve(options)
      : await serialSleeve(
          options.port as string,
          options,
          options.practice ? calibrationsBeside(home, store) : store,
        );
    closing.push(() => sleeve.link.close());
    const notes = keptNotes(store, sleeve.sleeveId, sleeve.calibration);
    const learned = learnedCalibration(sleeve.calibration, notes.read());
    const board = createSleeveBoard(sleeve.link);
    closing.push(() => board.close());
    const around = familySurroundings(store);
    let pages = 0;
    const feed = createLiveFeed({
      link: sleeve.link,
      calibration: learned.calibration,
      keeper: store,
      outputs: boardOutputs(board),
      newFeedId: (startedAtMs) => newFeedId(startedAtMs, Math.random),
      wallNowMs: () => Date.now(),
      simulated,
      sleeveId: sleeve.sleeveId,
      isPageOpen: () => pages > 0,
      soundOn: store.readSoundOn(),
      keepSoundOn: (on) => store.writeSoundOn(on),
      // A doll is nobody's baby.
      ...(!options.practice && { guide: guideFrom(store, Date.now, simulated) }),
    });
    const live = checkedFeeds(feed, {
      link: sleeve.link,
      calibration: sleeve.calibration,
      notes,
      notesOf: (sleeveId, calibration) => keptNotes(store, sleeveId, calibration),
      learns: !simulated && !options.practice,
      wallNowMs: () => Date.now(),
    });
    closing.push(() => live.stop());
    sleeve.onOther?.((other) => {
      live.changeSleeve(other);
      if (other === null) return;
      process.stdout.write(
        `Another sleeve is connected now, number ${other.sleeveId}; its own calibration is taken.\n`,
      );
    });
    const server = await createServer({
      live: options.practice ? markedPractice(live) : live,
      feeds: store,
      graph: (kept, options) => sessionGraphSvg(kept, { ...options, timeZone: around.zone }),
      png: sessionGraphPngFromSvg,
      ...(!options.practice && { babies: babyService(store) }),
      kept: keptService(store, folder, () => live.command({ kind: 'setup', setup: store.readSetup() })),
      review: reviewService(store, around),
      packing: packingService(store, around),
      technique: describeTechnique,
      practice: async (seed) => (await import('../app/practice/practice-pair.ts')).practicePair(seed),
      webFolder: webFolder(),
      port: options.pagePort,
      onPages: (count) => {
        pages = count;
      },
      ...(door && { door }),
      onError: (error) => process.stderr.write(`ebbline: the page met a fault: ${String(error)}\n`),
    });
    closing.push(() => server.close());
    let unkept: Unkept = { feedIds: [], notice: null };
    const seen = live.view$.subscribe((view) => {
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
    board.ready.catch((error: { code?: string; text?: string }) => {
      // Stopped before it was ready: that is no trouble.
      if (error.code === 'board-closed') return;
      process.stderr.write(`ebbline: ${error.text ?? String(error)}\n`);
    });
    await stop.first;
    live.stop();
    const isKept = await keepTrying(live, {
      unkept: () => unkept,
      nextSecond: stop.nextSecond,
      say: (text) => process.stderr.write(text),
    });
    stop.letGo();
    await closeAll();
    process.exit(isKept ? 0 : EXIT_NOT_KEPT);
  } catch (error) {
    await closeAll();
    throw error;
  }
}

const ZONE_ASKED =
  'This computer’s clock is on UTC. Choose your time zone on the page, under Feeds, or with "ebbline time-zone America/Chicago".\n';

/** Whoever gives a calibration means a real sleeve: a simulated one in its place would be a trap. */
function refuseUnusedCalibration({ calibration, replaceCalibration }: StartOptions): void {
  if (calibration === undefined && !replaceCalibration) return;
  throw new PlainError(
    'calibration-without-port',
    'A calibration was given, but no --port: the simulated sleeve brings its own.',
    'Name the port of your sleeve with --port, or leave the calibration out.',
  );
}

/** Feeds that a killed process or a power cut left open get their refined pass now, from the capture. */
function finishInterrupted(store: FeedStore): void {
  for (const feed of store.unfinished()) {
    const when = new Date(feed.startedAtMs).toLocaleString('en-US');
    try {
      store.recover(feed.id, refinedFromCapture(store, feed.id));
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

/** The built page lies beside the built command, or in dist when run from source. */
function webFolder(): string {
  const here = dirname(fileURLToPath(import.meta.url));
  const places = [join(here, 'web'), join(here, '..', 'web'), join(here, '..', '..', 'dist', 'web')];
  return places.find((place) => existsSync(join(place, 'index.html'))) ?? places[2]!;
}

const greeting = ({ port, practice }: StartOptions, url: string, folder: string, label: string): string =>
  [
    port === undefined
      ? 'Ebbline watches a simulated feed; nothing here is a real baby.'
      : `Ebbline watches the sleeve on ${label}.`,
    ...(practice ? ['Practice, with a doll and water: none of it stands among real feeds.'] : []),
    `Page for the caregiver:  ${url}`,
    `Feeds are kept in:       ${folder}`,
    'Not a medical device or an alarm. Watch the baby, not the sleeve. Stop with Ctrl-C.',
    '',
  ].join('\n');

const STOP_SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** Hears every signal to stop until `letGo`, so that none of them ends the program by itself. */
function stopSignals() {
  let isAsked = false;
  let wake = () => {};
  const onAsked = () => {
    isAsked = true;
    wake();
  };
  for (const signal of STOP_SIGNALS) process.on(signal, onAsked);
  return {
    first: new Promise<void>((resolve) => {
      wake = resolve;
    }),
    /** @returns whether it was asked again meanwhile */
    async nextSecond(): Promise<boolean> {
      isAsked = false;
      await setTimeout(1000);
      return isAsked;
    },
    letGo() {
      for (const signal of STOP_SIGNALS) process.off(signal, onAsked);
    },
  };
}

async function listScenarios(): Promise<void> {
  const { SCENARIOS } = await import('../simulation/scenarios.ts');
  for (const [name, { about }] of Object.entries(SCENARIOS)) {
    process.stdout.write(`${name.padEnd(15)} ${about}\n`);
  }
}
