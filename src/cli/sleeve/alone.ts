/** `ebbline sleeve alone on|off|feeds`: whether the sleeve guides by itself while no host does. */
import {
  aloneText,
  fetchAlone,
  type SleeveOrdered,
  turnOffAlone,
  turnOnAlone,
} from '../../app/sleeve/alone-orders.ts';
import { aloneTalk } from '../../app/sleeve/alone-talk.ts';
import { ownerKey } from '../../app/sleeve/owner-key.ts';
import { withSleeveOn } from '../../app/sleeve/sleeve-on-port.ts';
import { say } from '../print-out.ts';
import { withStore } from '../with-store.ts';
import type { SleeveGiven } from './commands.ts';

const onSleeve =
  <G extends { port: string }>(act: (sleeve: SleeveOrdered, given: G) => Promise<void>) =>
  (given: G): Promise<void> =>
    withStore({}, (store, folder) =>
      withSleeveOn(given.port, (link, { sleeveNumber }) =>
        act({ talk: aloneTalk(link, ownerKey(folder)), sleeveNumber, store, nowMs: Date.now() }, given),
      ),
    );

/** @throws PlainError if there is no such baby, calibration or sleeve, or the baby must not get pacing cues */
export const guideAlone = onSleeve(async (sleeve, given: SleeveGiven<'sleeve alone on'>) =>
  say(await turnOnAlone(sleeve, given)),
);

export const stopGuidingAlone = onSleeve(async (sleeve) => say(await turnOffAlone(sleeve)));

export const fetchFeeds = onSleeve(async (sleeve, { json, forget }: SleeveGiven<'sleeve alone feeds'>) => {
  const { sleeveNumber, talk } = sleeve;
  const feeds = await fetchAlone(sleeve);
  say(json ? JSON.stringify({ sleeveNumber, byTheSleeveAlone: feeds }) : aloneText(feeds));
  if (forget) await talk.forgetFeeds();
});
