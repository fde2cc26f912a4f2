/** A binding by labels holds for one feed, even if its worker dies at the end of it; and a sleeve whose bottle must not be given shows that. */
import { describe, expect, it, onTestFinished } from 'vitest';
import { newId } from '../../../src/app/relay/broker-choice.ts';
import { brokerSource } from '../../../src/app/ward/broker-source.ts';
import { babyEntry } from '../../support/babies.ts';
import { noBroker } from '../../support/broker.ts';
import { requireBuild } from '../../support/command.ts';
import { oneAfterAnother } from '../../support/one-after-another.ts';
import { noPostgres } from '../../support/postgres.ts';
import { simulateCapture } from '../../support/simulated-capture.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { startWard, WARD_PLACE } from '../../support/ward/ward.ts';

const missing = noBroker ?? noPostgres;
describe.skipIf(missing !== null)(`labels of one feed ${missing ?? ''}`, () => {
  requireBuild();

  it('bind that feed alone, though its worker is killed once it is over', async () => {
    let child = '';
    const next = simulateCapture({ scenario: 'paced', seed: 1, longestSec: 60 }).bytes;
    const ward = await startWard({
      folder: temporaryFolder(),
      ...{ sleeves: 1, workers: 2, database: 'postgres', seconds: 40, spreadSec: 0 },
      whenOver: onTestFinished,
      sends: (feed) => oneAfterAnother([feed, next]),
      prepare(store) {
        child = store.addBaby({ ...babyEntry(), name: 'Ilo' }).id;
        const atMs = Date.now();
        store.ward(({ records }) =>
          records.bind({ atMs, babyId: child, bottle: 'BOTTLE', sleeve: 1, container: 'x', by: null }),
        );
      },
    });
    const patient = { timeout: 300_000, interval: 1000 };
    const guiding = async (): Promise<number> => {
      const all = await Promise.all(
        ward
          .healthUrls()
          .map(async (url): Promise<{ sleeves: number }> => (await fetch(`${url}/health`)).json()),
      );
      return all.findIndex(({ sleeves }) => sleeves === 1);
    };
    const first = () => ward.read((store) => store.list().at(-1));
    await expect.poll(() => first()?.state, patient).toBe('ended');
    await expect.poll(guiding, patient).toBeGreaterThanOrEqual(0);
    const dying = ward.workers[await guiding()]!;
    await dying.kill();
    await expect.poll(() => ward.read((store) => store.list().length), patient).toBe(2);
    const [second, before] = ward.read((store) => store.list());
    expect(before!.setup).toMatchObject({ babyId: child, babyName: 'Ilo' });
    expect(second!.setup.babyId ?? null).toBeNull();
    const kept = ward.read((store) => store.ward(({ records }) => records.bindingOfFeed(before!.id)));
    expect(kept).toMatchObject({ sleeve: 1, overAtMs: expect.any(Number) });
    expect(ward.read((store) => store.ward(({ records }) => records.bindings()))).toEqual([]);
    await dying.start();
    // The other worker refines the feed and packs its capture.
    const settled = () => ward.read((store) => [store.get(before!.id)!.refined !== null, store.unsettled()]);
    await expect.poll(settled, patient).toEqual([true, []]);

    const board = brokerSource({
      ...{ address: ward.broker.address, place: WARD_PLACE, id: newId(), say: () => {} },
    });
    onTestFinished(() => board.close());
    await expect.poll(() => board.isCutOff(), patient).toBe(false);
    const seen = async () => (await ward.cots.report())[0]!;
    const isRed = ([, ...color]: number[]) => color.join() === '255,0,0';
    expect((await seen()).lights.some(isRed)).toBe(false);
    board.stop!(1, 60);
    await expect.poll(async () => (await seen()).lights.some(isRed), patient).toBe(true);
    await expect.poll(async () => (await seen()).sounds.length, patient).toBeGreaterThan(0);
    board.stop!(1, 0);
    await expect.poll(async () => (await seen()).lights.slice(-1).some(isRed), patient).toBe(false);
  });
});
