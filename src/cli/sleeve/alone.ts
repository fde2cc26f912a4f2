/** `ebbline sleeve alone on|off|feeds`: whether the sleeve guides by itself while no host does. */
import { aloneText, fetchAlone, type SleeveOrdered, turnOnAlone } from '../../app/sleeve/alone-orders.ts';
import { aloneTalk } from '../../app/sleeve/alone-talk.ts';
import { ownerKey } from '../../app/sleeve/owner-key.ts';
import { withSleeveOn } from '../../app/sleeve/sleeve-on-port.ts';
import { say } from '../print-out.ts';
import { withStore } from '../with-store.ts';
import type { SleeveGiven } from './commands.ts';

const withSleeve = (
  { port }: SleeveGiven<'sleeve alone off'>,
  act: (sleeve: SleeveOrdered) => Promise<void>,
): Promise<void> =>
  withStore({}, (store, folder) =>
    withSleeveOn(port, (link, { sleeveNumber }) =>
      act({ talk: aloneTalk(link, ownerKey(folder)), sleeveNumber, store, nowMs: Date.now() }),
    ),
  );

/** @throws PlainError if there is no such baby, calibration or sleeve, or the baby must not get pacing cues */
export const letGuideAlone = (options: SleeveGiven<'sleeve alone on'>): Promise<void> =>
  withSleeve(options, async (sleeve) => {
    const baby = await turnOnAlone(sleeve, options);
    say(
      `Sleeve ${sleeve.sleeveNumber} now guides ${baby} by itself while no host does. It knows less than the host: watch the baby, not the sleeve. Off again: ebbline sleeve alone off.`,
    );
  });

export const stopGuidingAlone = (options: SleeveGiven<'sleeve alone off'>): Promise<void> =>
  withSleeve(options, async ({ talk, sleeveNumber }) => {
    await talk.turnOff();
    say(`Sleeve ${sleeveNumber} no longer guides by itself.`);
  });

export const fetchFeeds = (options: SleeveGiven<'sleeve alone feeds'>): Promise<void> =>
  withSleeve(options, async (sleeve) => {
    const feeds = await fetchAlone(sleeve);
    const { sleeveNumber, talk } = sleeve;
    say(options.json ? JSON.stringify({ sleeveNumber, byTheSleeveAlone: feeds }) : aloneText(feeds));
    if (options.forget) await talk.forgetFeeds();
  });
