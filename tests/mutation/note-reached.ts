/** Before a test file: notes which places of the sources it comes through, for tests/mutation/tried.ts. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect } from 'vitest';

const reached = new Set<string>();
Object.assign(globalThis, { reached: (id: string) => reached.add(id) });

afterAll(() => {
  const folder = process.env.EBBLINE_REACHED;
  if (!folder) return;
  const file = expect.getState().testPath!;
  writeFileSync(
    join(folder, `${encodeURIComponent(file)}.json`),
    JSON.stringify({ file, ids: [...reached] }),
  );
});
