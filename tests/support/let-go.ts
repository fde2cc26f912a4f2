import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** The database library holds a closed file until its statements are collected: lets it go, as if another process had had it. */
export async function letGo(): Promise<void> {
  for (let round = 0; round < 2; round++) {
    collect();
    await new Promise((resolve) => setImmediate(resolve));
  }
}
