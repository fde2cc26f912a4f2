/** A worker on a real broker: sleeves that cannot be guided are reported, and the others are guided on. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { serialize } from 'node:v8';
import { describe, expect, it, onTestFinished } from 'vitest';
import { readCapture } from '../../../firmware-bridge/links/capture-file.ts';
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import { healthOf } from '../../../src/app/work/health.ts';
import { StoreFront } from '../../../src/app/work/storing/store-front.ts';
import type { ToStore } from '../../../src/app/work/storing/store-ops.ts';
import { storeSide } from '../../../src/app/work/storing/store-side.ts';
import { Worker } from '../../../src/app/work/worker.ts';
import { PlainError } from '../../../src/base/errors.ts';
import type { FeedStore } from '../../../src/store/feed-store.ts';
import { openStore } from '../../../src/store/open-store.ts';
import { createTestBroker, listenWithClient, noBroker, type TestBroker } from '../../support/broker.ts';
import { countedId, IDENTITY, startRelay } from '../../support/relayed.ts';
import { simulateCapture } from '../../support/simulated-capture.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

const { calibration, bytes } = simulateCapture({ scenario: 'hurried-start', seed: 1, longestSec: 60 });
/** The first three seconds, before the latch: a sleeve that has sent nothing asks for no guide. */
const AT_REST = bytes.subarray(0, bytes.length / 20);

function startWorker(
  broker: Pick<TestBroker, 'address'>,
  open?: () => FeedStore,
  folder = temporaryFolder(),
) {
  const store = openStore(folder, { recording: true });
  store.keepCalibration('1', calibration);
  store.close();
  let take: (message: ToStore) => void = () => {};
  const front = new StoreFront(
    (message) => take(message),
    () => monotonic.now(),
  );
  const side = storeSide({ database: folder, simulated: true }, (message) => front.hear(message), open);
  take = (message) => side.take(message);
  const said: string[] = [];
  const worker = new Worker(
    {
      ...{ address: broker.address, site: null, room: null, front, mostSleeves: 10 },
      ...{ id: countedId(), wallNowMs: () => Date.now(), say: (text: string) => said.push(text) },
    },
    monotonic,
  );
  onTestFinished(async () => {
    await worker.close();
    await front.close();
  });
  const close = async (): Promise<void> => {
    await worker.close();
    await front.close();
  };
  return { worker, front, said, close };
}

describe.skipIf(noBroker !== null)(`a worker ${noBroker ?? ''}`, () => {
  it('guides what it knows, says what it does not know, and tells a board of both', async () => {
    const folder = temporaryFolder();
    const broker = await createTestBroker({ folder });
    await broker.start();
    const { lines } = await listenWithClient(broker, ['-t', 'ebbline/1/+/+/+/state', '-q', '1']);
    for (const sleeveNumber of [1, 2])
      startRelay(broker, temporaryFolder(), { identity: { ...IDENTITY, sleeveNumber } }).port.send(AT_REST);
    const { worker, said } = startWorker(broker);
    await expect
      .poll(() => [...worker.sleeves.values()].map(({ view }) => view?.feedState))
      .toEqual(['none']);
    await expect.poll(() => said.join(' ')).toMatch(/Sleeve 2 .* not guided; all others are/);
    await expect.poll(() => lines.join('\n')).toMatch(/"sleeveNumber":2.*"sleeve-unknown"/);
    await expect.poll(() => lines.join('\n')).toMatch(/"sleeveNumber":1,/);
  });

  it('whose store cannot be opened guides nothing that it knows nothing of, and says what is the matter', async () => {
    const folder = temporaryFolder();
    const broker = await createTestBroker({ folder });
    await broker.start();
    startRelay(broker, temporaryFolder(), { identity: { ...IDENTITY, sleeveNumber: 1 } }).port.send(AT_REST);
    const { worker, front, said } = startWorker(broker, () => {
      throw new PlainError(
        'database-certificate',
        'The certificate of the database has expired.',
        'Renew it.',
      );
    });
    await expect.poll(() => said.join(' ')).toMatch(/Sleeve 1 .*could not be opened yet/);
    expect(worker.sleeves.size).toBe(0);
    expect(healthOf({ worker, front })).toMatchObject({
      isWell: true,
      troubles: ['The certificate of the database has expired. Renew it.'],
    });
  });

  it('goes on with a feed whose checkpoint it cannot read, from the bytes that the relay has stored', async () => {
    const folder = temporaryFolder();
    const broker = await createTestBroker({ folder });
    await broker.start();
    const [relayFolder, data] = [temporaryFolder(), temporaryFolder()];
    const identity = { ...IDENTITY, sleeveNumber: 1 };
    const first = startRelay(broker, relayFolder, { identity });
    const parts = [0, 0.5, 0.75, 1].map((share) => Math.floor(bytes.length * share));
    const part = (i: number) => bytes.subarray(parts[i], parts[i + 1]);
    // Nobody guides yet, and the baby drinks already.
    first.port.send(part(0));
    const before = startWorker(broker, undefined, data);
    const guided = ({ worker }: typeof before) => [...worker.sleeves.values()].map(({ feedId }) => feedId);
    await expect.poll(() => guided(before)[0] ?? null).not.toBeNull();
    expect(before.said.join(' ')).toMatch(/Sleeve 1: its feed since .* goes on, from the bytes/);
    const [id] = guided(before);
    first.port.send(part(1));
    const isLive = ({ worker }: typeof before) => [...worker.sleeves.values()][0]?.view?.feedState === 'open';
    await expect.poll(() => isLive(before)).toBe(true);
    await before.close();
    await first.relay.close();

    writeFileSync(join(relayFolder, 'log', 'note'), serialize({ version: 1, feed: 'of an older program' }));
    const second = startRelay(broker, relayFolder, { identity });
    second.port.send(part(2));
    const after = startWorker(broker, undefined, data);
    await expect.poll(() => guided(after)).toEqual([id]);
    await expect.poll(() => isLive(after)).toBe(true);
    await after.close();
    const store = openStore(data);
    onTestFinished(() => store.close());
    expect(store.list().map((feed) => feed.id)).toEqual([id]);
    const kept = readCapture(store.capturePath(id!)!).bytes;
    expect(Buffer.compare(kept, bytes)).toBe(0);
  });

  it('says once what the broker refuses, and is not well', async () => {
    const folder = temporaryFolder();
    const broker = await createTestBroker({ folder, password: true });
    await broker.start();
    const { worker, front, said } = startWorker({
      address: { ...broker.address, password: 'another' },
    });
    await expect.poll(() => said.length).toBeGreaterThan(0);
    expect(said[0]).toMatch(/does not take this user and password/);
    expect(healthOf({ worker, front }).isWell).toBe(false);
  });
});
