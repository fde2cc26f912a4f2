import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** Store, connection and statement refer to one another: one round of garbage collection may free only the outermost. */
const ROUNDS = 5;

/** The database library keeps a closed file open until its statements are collected; this releases it, as if another process had used it. */
export async function letGo(): Promise<void> {
  for (let round = 0; round < ROUNDS; round++) {
    collect();
    await new Promise((resolve) => setImmediate(resolve));
  }
}
