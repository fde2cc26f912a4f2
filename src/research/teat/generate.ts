/** `npm run gen`, third part: writes everything that is made from the format of a nipple's passport. */
import { writeFileSync } from 'node:fs';
import { passportPage, passportSchemaText } from './passport-page.ts';

/** Generated files: place seen from the top of the project, and text. A test rebuilds and compares each. */
export const GENERATED: { path: string; text: () => string }[] = [
  { path: 'src/research/teat/PASSPORT.md', text: passportPage },
  { path: 'src/research/teat/passport.schema.json', text: passportSchemaText },
];

const top = new URL('../../../', import.meta.url);

if (process.argv[1] === new URL(import.meta.url).pathname) {
  for (const { path, text } of GENERATED) {
    writeFileSync(new URL(path, top), text());
    console.log(`wrote ${path}`);
  }
}
