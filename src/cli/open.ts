/** `ebbline open`: the page for the stored feeds, without a sleeve, until Ctrl-C. It records nothing, so it may run beside `ebbline start`. */
import { createAside } from '../app/aside/aside.ts';
import { pageServices } from '../app/page-services.ts';
import { noSleeve } from '../app/sleeve/no-sleeve.ts';
import { PlainError } from '../base/errors.ts';
import { createServer } from '../server/server.ts';
import { untilStopped } from './closing.ts';
import { shareDoor, shareFromTerminal } from './share.ts';
import type { WatchGiven } from './watch-commands.ts';
import { openKept } from './with-store.ts';

/** @throws PlainError if the data folder cannot be read, or the page's port is in use */
export async function openPage(options: WatchGiven<'open'>): Promise<never> {
  const { simulated = false, pagePort } = options;
  const door = shareDoor(options.share);
  const { store, folder, helper } = await openKept(options);
  return untilStopped(async (closing, greet) => {
    closing.push(() => store.close());
    const aside = createAside(helper);
    closing.push(() => aside.close());
    const services = pageServices(store, folder, aside);
    const server = await createServer({
      ...services,
      kept: { ...services.kept, forget: refuseForgetting },
      live: noSleeve(store, simulated),
      port: pagePort,
      ...(door && { door }),
    });
    closing.push(() => server.close());
    greet(greeting(server.url, folder, simulated, store.list({ limit: 1 }).length > 0));
    if (door) closing.push(shareFromTerminal(door).close);
  });
}

/** Deleting a baby needs the folder without other users. */
function refuseForgetting(baby: string): never {
  throw new PlainError(
    'open-keeps',
    'Nothing was deleted: this page only reads and writes beside what is kept.',
    `In a terminal run: ebbline data forget "${baby}".`,
  );
}

const greeting = (url: string, folder: string, simulated: boolean, hasFeeds: boolean): string[] => [
  `Ebbline shows what is kept${simulated ? ' of the simulated sleeve' : ''}; no sleeve is attached, and nothing is recorded.`,
  `Page:                    ${url}`,
  `Feeds are kept in:       ${folder}`,
  ...(hasFeeds
    ? []
    : [
        `There are none yet. ${simulated ? 'To make some: ebbline start.' : 'For those of the simulated sleeve: ebbline open --simulated.'}`,
      ]),
  'Not a medical device or an alarm. Stop with Ctrl-C.',
];
