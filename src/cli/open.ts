/** `ebbline open`: the page for the stored feeds, without a sleeve, until Ctrl-C. It records nothing, so it may run beside `ebbline start`. */
import { createAside } from '../app/aside/aside.ts';
import { openText } from '../app/greeting-text.ts';
import { keptPage } from '../app/page-services.ts';
import { createServer } from '../server/server.ts';
import { untilStopped } from './closing.ts';
import { shareDoor, shareFromTerminal } from './share.ts';
import type { WatchGiven } from './watch-commands.ts';
import { openKept } from './with-store.ts';

/** @throws PlainError if the data folder cannot be read, or the page's port is in use */
export async function openPage(options: WatchGiven<'open'>): Promise<never> {
  const { simulated = false, pagePort: port } = options;
  const door = shareDoor(options.share);
  const { store, folder, helper } = await openKept(options);
  return untilStopped(async (closing, greet) => {
    closing.push(() => store.close());
    const aside = createAside(helper);
    closing.push(() => aside.close());
    const page = keptPage({ store, folder, simulated }, aside);
    const server = await createServer({ ...page, port, ...(door && { door }) });
    closing.push(() => server.close());
    const hasFeeds = store.list({ limit: 1 }).length > 0;
    greet(openText({ simulated, hasFeeds, folder }, server.url));
    if (door) closing.push(shareFromTerminal(door).close);
  });
}
