/** `npm run gen`, second part: writes everything that is made from the pin table. */
import { writeFileSync } from 'node:fs';
import { pinsHeader } from './pins-header.ts';

/** Generated files: place seen from the top of the project, and text. A test rebuilds and compares each. */
export const GENERATED: { path: string; text: () => string }[] = [
  { path: 'hardware/firmware/pins.h', text: pinsHeader },
];

const top = new URL('../', import.meta.url);

if (process.argv[1] === new URL(import.meta.url).pathname) {
  for (const { path, text } of GENERATED) {
    writeFileSync(new URL(path, top), text());
    console.log(`wrote ${path}`);
  }
}
