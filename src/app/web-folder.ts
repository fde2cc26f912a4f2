/** Where the built page is. */
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The built page is beside the built command, or in dist when run from source. */
export function webFolder(): string {
  const here = dirname(fileURLToPath(import.meta.url));
  const places = [join(here, 'web'), join(here, '..', 'web'), join(here, '..', '..', 'dist', 'web')];
  return places.find((place) => existsSync(join(place, 'page.js'))) ?? places[2]!;
}
