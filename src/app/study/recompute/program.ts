/** Identifies the program by a hash of its code, so that results of another program are never reused. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, realpathSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { SOFTWARE_VERSION } from '../../../base/version.ts';

/** The program that runs. */
export const thisProgram = () => ({
  softwareVersion: SOFTWARE_VERSION,
  programSha256: programSha256(realpathSync(process.argv[1]!)),
});

/** @param entry the file that node was started with: the built command, or its source */
export function programSha256(entry: string): string {
  const here = dirname(entry);
  // Built: the command and its parts. From source: all source folders.
  const roots = existsSync(join(here, 'parts'))
    ? [join(here, 'parts')]
    : [join(here, '..'), join(here, '../../firmware-bridge')];
  const hash = createHash('sha256');
  for (const root of roots) {
    const names = readdirSync(root, { recursive: true, encoding: 'utf8' });
    for (const name of names.filter((one) => /\.(js|mjs|tsx?)$/.test(one)).sort())
      hash.update(`${name}\0`).update(readFileSync(join(root, name)));
  }
  return hash.digest('hex');
}
