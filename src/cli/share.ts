/** `ebbline start --share`: the page on the home network, with a code in the terminal and two commands typed there. */
import { networkInterfaces } from 'node:os';
import { createInterface } from 'node:readline';
import { homeNetwork } from '../server/home-network.ts';
import type { Right } from '../server/rights.ts';
import { ShareDoor } from '../server/share-door.ts';
import { CODE_LIFE_MS } from '../server/sharing.ts';
import { say } from './print-out.ts';
import { qrCode } from './qr-code.ts';

/** @param share  the address to share at; true takes the only home network there is; without it nothing is shared */
export function shareDoor(share: string | true | undefined): ShareDoor | null {
  if (share === undefined) return null;
  const network = homeNetwork(share === true ? null : share, networkInterfaces());
  return new ShareDoor({ network, onNews: say });
}

/** Shows a first code, then takes commands from the terminal. To be called once the server listens. */
export function shareFromTerminal(door: ShareDoor): { close(): void } {
  showInvitation(door, 'help');
  const orders = createInterface({ input: process.stdin, terminal: false });
  orders.on('line', (line) => {
    const order = line.trim().toLowerCase();
    const right = RIGHT_OF[order];
    if (right) showInvitation(door, right);
    else if (order === 'withdraw') {
      door.withdraw();
      say('The code is withdrawn, and every device is put out.');
    } else if (order !== '') say('Orders: code watch, code help, code owner, withdraw.');
  });
  return { close: () => orders.close() };
}

const RIGHT_OF: Readonly<Record<string, Right>> = {
  code: 'help',
  'code watch': 'watch',
  'code help': 'help',
  'code owner': 'owner',
};

/** The right that a device gets. */
const MAY: Record<Right, string> = {
  watch: 'may watch',
  help: 'may help: say "burped", turn cues off, write notes',
  owner: 'may do all but share and delete',
};

function showInvitation(door: ShareDoor, right: Right): void {
  const address = door.invite(right);
  say([
    process.stdout.isTTY && qrCode(address),
    `Scan with the device that shall show the page:  ${address}`,
    `It ${MAY[right]}. The code works once, within ${CODE_LIFE_MS / 60_000} minutes. The connection is not encrypted: share on a network that you trust.`,
    'Type "code watch", "code help" or "code owner" and Enter for a new code, "withdraw" and Enter to withdraw it and put every device out.',
  ]);
}
