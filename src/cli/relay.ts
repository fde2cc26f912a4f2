/** `ebbline relay`: passes sleeves on to a broker until it is stopped. */
import { join } from 'node:path';
import { brokerAndPlace } from '../app/relay/broker-choice.ts';
import { relayPort } from '../app/relay/relayed-port.ts';
import { dataFolder } from '../store/data-folder.ts';
import { untilStopped } from './closing.ts';
import { warn } from './print-out.ts';
import type { WatchGiven } from './watch-commands.ts';

export function relaySleeves(options: WatchGiven<'relay'>): Promise<never> {
  const { address, place } = brokerAndPlace(options);
  const folder = join(dataFolder({}), 'relay');
  return untilStopped(async (closing, greet) => {
    const ports = options.port.map((port) => relayPort(port, { address, place, folder, say: warn }));
    closing.push(() => Promise.all(ports.map((port) => port.close())));
    greet([
      `Ebbline passes on the sleeves on ${options.port.join(', ')} as room "${place.room}" of site "${place.site}" to ${address.label}.`,
      `The last eight hours are kept in ${folder}. Stop with Ctrl-C.`,
    ]);
  });
}
