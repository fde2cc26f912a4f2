/** `ebbline relay`: sends sleeves' bytes to a broker until it is stopped. The work is in `app/relay`. */
import { join } from 'node:path';
import { type BrokerChoice, brokerAndPlace, type PlaceChoice } from '../app/relay/broker-choice.ts';
import { relayPort } from '../app/relay/relayed-port.ts';
import { dataFolder } from '../store/data-folder.ts';
import { say } from './print-out.ts';
import { stopSignals } from './stop-signals.ts';

export type RelayOptions = BrokerChoice & PlaceChoice & { port: string[] };

export async function relayCommand(options: RelayOptions): Promise<void> {
  const { address, place } = brokerAndPlace(options);
  const folder = join(dataFolder({ simulated: false }), 'relay');
  const stop = stopSignals();
  const ports = options.port.map((port) =>
    relayPort(port, {
      address,
      place,
      folder,
      say: (text) => process.stderr.write(`ebbline: ${text}\n`),
    }),
  );
  say([
    `Ebbline passes on the sleeves on ${options.port.join(', ')} as room "${place.room}" of site "${place.site}" to ${address.label}.`,
    `The last eight hours are kept in ${folder}. Stop with Ctrl-C.`,
  ]);
  await stop.first;
  await Promise.all(ports.map((port) => port.close()));
  stop.letGo();
  process.exit(0);
}
