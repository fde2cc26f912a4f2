/** `ebbline start`: joins a sleeve, the live feed, the store and the page, until Ctrl-C. */
import { join } from 'node:path';
import { createSleeveBoard } from '../../firmware-bridge/board.ts';
import { createAside } from '../app/aside/aside.ts';
import { historyText } from '../app/calibration/kept-calibrations.ts';
import { watchingText, ZONE_ASKED } from '../app/greeting-text.ts';
import { familyZone, takeZoneOf } from '../app/kept/family-zone.ts';
import { EXIT_NOT_KEPT, keepTrying } from '../app/kept/keep-trying.ts';
import { settleEnded, settling } from '../app/kept/settling.ts';
import { finishInterrupted, sayFindings } from '../app/kept/start-up.ts';
import { watchedPage } from '../app/page-services.ts';
import { calibrationsBeside } from '../app/practice/practice.ts';
import { checkSleeveChoice, chosenSleeve, isSimulated } from '../app/sleeve/chosen-sleeve.ts';
import { watchSleeve } from '../app/sleeve/watched-feed.ts';
import { SOFTWARE_VERSION } from '../base/version.ts';
import { createServer } from '../server/server.ts';
import { dataFolder } from '../store/data-folder.ts';
import { openStore } from '../store/open-store.ts';
import { closingAll } from './closing.ts';
import { say, shown, warn } from './print-out.ts';
import { shareDoor, shareFromTerminal } from './share.ts';
import { stopSignals } from './stop-signals.ts';
import { terminalLines } from './terminal.ts';
import type { WatchGiven } from './watch-commands.ts';

export type StartOptions = WatchGiven<'start'>;

export async function start(options: StartOptions): Promise<void> {
  if (options.listScenarios) return listScenarios(options);
  const { practice = false } = options;
  const simulated = isSimulated(options);
  checkSleeveChoice(options);
  const door = shareDoor(options.share);
  const family = dataFolder({});
  const home = dataFolder({ simulated });
  const folder = practice ? join(home, 'practice') : home;
  const store = openStore(folder, { recording: true, softwareVersion: SOFTWARE_VERSION, packsLater: true });
  const isKept = await closingAll(async (closing) => {
    closing.push(() => store.close());
    if (folder !== family) takeZoneOf(family, store);
    const aside = createAside({ folder });
    closing.push(() => aside.close());
    const after = settling(store, aside);
    finishInterrupted(store);
    sayFindings(folder);
    for (const feedId of store.unsettled()) after.settle(feedId);
    const sleeve = await chosenSleeve(options, practice ? calibrationsBeside(home, store) : store);
    closing.push(() => sleeve.link.close());
    const board = createSleeveBoard(sleeve.link);
    closing.push(() => board.close());
    const pages = { open: 0 };
    const watching = { simulated, practice, folder, store, pages, say, warn };
    const { live, history } = watchSleeve(watching, sleeve, board, closing);
    const server = await createServer({
      ...watchedPage(watching, aside, live),
      port: options.pagePort,
      onPages: (count) => {
        pages.open = count;
      },
      ...(door && { door }),
    });
    closing.push(() => server.close());
    const ended = settleEnded(live, after);
    closing.push(ended.close);
    const lines = terminalLines(live.view$, { quiet: options.quiet ?? false });
    closing.push(() => lines.unsubscribe());
    // Signals are handled before the greeting, since whoever reads it may stop the program at once.
    const stop = stopSignals();
    say(watchingText(watching, server.url, sleeve.link.label));
    if (familyZone(store).asks) say(ZONE_ASKED);
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

function sayBoardTrouble(error: { code?: string; text?: string }): void {
  // Stopped before it was ready: no error.
  if (error.code !== 'board-closed') warn(error.text ?? String(error));
}

async function listScenarios({ json }: Pick<StartOptions, 'json'>): Promise<void> {
  const { SCENARIOS } = await import('../simulation/scenarios.ts');
  const scenarios = Object.entries(SCENARIOS).map(([name, { about }]) => ({ name, about }));
  say(shown(json, scenarios, (all) => all.map(({ name, about }) => `${name.padEnd(15)} ${about}`)));
}
