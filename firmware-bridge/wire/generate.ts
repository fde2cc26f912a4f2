/** `npm run gen`: writes everything that is made from the message table. */
import { writeFileSync } from 'node:fs';
import { messageHeader } from './c-header.ts';
import { protocolPage } from './protocol-page.ts';

/** Generated files: place seen from the top of the project, and text. A test rebuilds and compares each. */
export const GENERATED: { path: string; text: () => string }[] = [
  { path: 'firmware-bridge/PROTOCOL.md', text: protocolPage },
  { path: 'hardware/firmware/messages.h', text: messageHeader },
];

const top = new URL('../../', import.meta.url);

if (process.argv[1] === new URL(import.meta.url).pathname) {
  for (const { path, text } of GENERATED) {
    writeFileSync(new URL(path, top), text());
    console.log(`wrote ${path}`);
  }
}
