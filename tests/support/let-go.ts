import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** Store, connection and statement hold one another: a round of collection may free only the outermost of those that are left. */
const ROUNDS = 5;

/** The database library holds a closed file until its statements are collected: lets it go, as if another process had had it. */
export async function letGo(): Promise<void> {
  for (let round = 0; round < ROUNDS; round++) {
    collect();
    await new Promise((resolve) => setImmediate(resolve));
  }
}
