/** What cannot be read of one sleeve in the store does not concern the others. */
import { expect, it, onTestFinished } from 'vitest';
import { StoreFront } from '../../../src/app/work/storing/store-front.ts';
import type { ToStore } from '../../../src/app/work/storing/store-ops.ts';
import { storeSide } from '../../../src/app/work/storing/store-side.ts';
import { PlainError } from '../../../src/base/errors.ts';
import { openStore } from '../../../src/store/open-store.ts';
import { exampleCalibration } from '../../support/calibrations.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

function scene() {
  const folder = temporaryFolder();
  const store = openStore(folder, { recording: true });
  store.keepCalibration('1', { ...exampleCalibration(), sleeveId: '1' });
  store.keepCalibration('2', { ...exampleCalibration(), sleeveId: '2', version: 9 });
  let take: (message: ToStore) => void = () => {};
  const front = new StoreFront(
    (message) => take(message),
    () => 0,
  );
  const side = storeSide(
    { database: folder, simulated: false },
    (message) => front.hear(message),
    () => store,
  );
  take = (message) => side.take(message);
  onTestFinished(() => front.close());
  return { store, front };
}

it('a calibration that cannot be read is said of its sleeve, and the others’ bindings come', async () => {
  const { front } = scene();
  const bindings = await front.bindings([1, 2, 3]);
  expect([...bindings.keys()]).toEqual([1, 3]);
  expect(bindings.get(1)).toMatchObject({ bound: null, simulated: false });
  expect(bindings.get(3)).toBeNull();
  await expect(front.bindings([2])).rejects.toMatchObject({
    code: 'calibration-version',
    message: expect.stringMatching(/kept for sleeve 2 has version 9/),
  });
});

it('a store that is away concerns all of them, and is asked once', async () => {
  const { store, front } = scene();
  let asked = 0;
  store.calibrationFor = () => {
    asked += 1;
    throw new PlainError('database-away', 'The database is away.', 'Start it.');
  };
  await expect(front.bindings([1, 2, 3])).rejects.toMatchObject({ code: 'database-away' });
  expect(asked).toBe(1);
});
