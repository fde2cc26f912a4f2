import { expect, it, onTestFinished } from 'vitest';
import { noSleeve } from '../../src/app/sleeve/no-sleeve.ts';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import { openStore } from '../../src/store/open-store.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

it('without a sleeve: answers, sound and dimming are kept; what needs a sleeve is refused in a sentence', () => {
  const store = openStore(temporaryFolder());
  const live = noSleeve(store, false);
  let view: LiveView | null = null;
  const seen = live.view$.subscribe((next) => {
    view = next;
  });
  onTestFinished(() => {
    seen.unsubscribe();
    store.close();
  });
  expect(view).toMatchObject({ showing: 'no-guidance', noSleeve: true, feedState: 'none', simulated: false });
  const setup = { ...store.readSetup(), bottleName: 'blue cap' };
  live.command({ kind: 'setup', setup });
  live.command({ kind: 'mute', on: false });
  live.command({ kind: 'dim', on: true });
  expect(view).toMatchObject({ setup: { bottleName: 'blue cap' }, muted: false, dimmed: true });
  expect(store.readSetup().bottleName).toBe('blue cap');
  expect(store.readSoundOn()).toBe(true);
  expect(() => live.command({ kind: 'end-feed' })).toThrow('No sleeve is attached: this takes one.');
});
