/** What a relay stores of its guides survives the relay. */
import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openGuideStore } from '../../../firmware-bridge/links/broker/guide-store.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

const bytes = (text: string): Buffer => Buffer.from(text);

it('stores the latest checkpoint and the highest number, also a shorter one after a longer one', () => {
  const folder = temporaryFolder();
  const store = openGuideStore(folder);
  for (const text of ['a long checkpoint of a feed', 'of no feed']) store.keep(bytes(text));
  for (const epoch of [4, 3]) store.obey(epoch);
  // It is there without being closed, as after a kill.
  const again = openGuideStore(folder);
  expect([Buffer.from(again.checkpoint).toString(), again.epoch]).toEqual(['of no feed', 4]);
  expect(statSync(join(folder, 'note')).mode & 0o077).toBe(0);
  again.keep(bytes('of the next guide'));
  for (const one of [store, again]) one.close();
  expect(readFileSync(join(folder, 'note'), 'utf8')).toBe('of the next guide');
});

it('goes on from memory where the disk takes nothing', () => {
  const folder = join(temporaryFolder(), 'gone');
  const store = openGuideStore(folder);
  store.keep(bytes('a checkpoint'));
  store.obey(7);
  expect([Buffer.from(store.checkpoint).toString(), store.epoch]).toEqual(['a checkpoint', 7]);
  store.close();
  expect(openGuideStore(folder).epoch).toBe(0);
});
