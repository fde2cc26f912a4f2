/** A worker that is killed in the middle of feeds: another goes on with them, and what is kept is what it would be at home. */
import { describe, expect, it, onTestFinished } from 'vitest';
import { noBroker } from '../../support/broker.ts';
import { requireBuild } from '../../support/command.ts';
import { noPostgres } from '../../support/postgres.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { checkedFeeds } from '../../support/ward/checks.ts';
import { startWard } from '../../support/ward/ward.ts';

const missing = noBroker ?? noPostgres;

describe.skipIf(missing !== null)(`two workers ${missing ?? ''}`, () => {
  requireBuild();

  it('share sleeves; one that dies is replaced, and its feeds go on as if nothing had happened', async () => {
    const ward = await startWard({
      folder: temporaryFolder(),
      sleeves: 3,
      workers: 2,
      database: 'postgres',
      seconds: 75,
      spreadSec: 3,
      whenOver: onTestFinished,
    });
    const health = () =>
      Promise.all(
        ward.healthUrls().map(async (url) => {
          const answer = (await (await fetch(`${url}/health`)).json()) as { sleeves: number; feeds: number };
          return answer;
        }),
      );
    const sum = async (what: 'sleeves' | 'feeds') =>
      (await health()).reduce((all, one) => all + one[what], 0);
    const patient = { interval: 500 };
    await expect.poll(() => sum('feeds'), patient).toBe(3);
    const metrics = await (await fetch(`${ward.healthUrls()[1]}/metrics`)).text();
    expect(metrics).toMatch(/^ebbline_sleeves \d/m);
    expect(metrics.trimEnd()).toMatch(/# EOF$/);

    // How they share them is not given: one that connected late may have none.
    const [first, second] = await health();
    const at = first!.sleeves >= second!.sleeves ? 0 : 1;
    const [dying, staying] = [ward.workers[at]!, ward.healthUrls()[1 - at]!];
    await dying.kill();
    const left = async () => ((await (await fetch(`${staying}/health`)).json()) as { feeds: number }).feeds;
    await expect.poll(left, patient).toBe(3);
    await dying.start();
    const sent = async () => Math.min(...(await ward.cots.report()).map(({ sentBytes }) => sentBytes));
    await expect.poll(sent, patient).toBe(ward.bytes.length);
    // A worker hands over what it has recorded every four seconds.
    const isWhole = () =>
      ward
        .read((store) => checkedFeeds(store, ward.bytes, ward.calibration))
        .every(({ to }) => to === ward.bytes.length);
    await expect.poll(isWhole, patient).toBe(true);
    const kept = ward.read((store) => checkedFeeds(store, ward.bytes, ward.calibration));
    expect(kept.map(({ wrong }) => wrong)).toEqual([[], [], []]);
    expect(kept.every(({ cues }) => cues > 0)).toBe(true);
  });
});
