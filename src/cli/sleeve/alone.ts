/** `ebbline sleeve alone on|off|feeds`: whether the sleeve guides by itself while no host does. */
import { firstValueFrom } from 'rxjs';
import { hello } from '../../../firmware-bridge/links/hello.ts';
import { createSerialLink } from '../../../firmware-bridge/links/serial-link.ts';
import { pastFeeds } from '../../app/babies/babies-service.ts';
import { aloneBlock } from '../../app/sleeve/alone-block.ts';
import { aloneProfileFor } from '../../app/sleeve/alone-for.ts';
import { type AloneTalk, aloneTalk } from '../../app/sleeve/alone-talk.ts';
import { keepAloneFeeds } from '../../app/sleeve/fetched-alone.ts';
import { ownerKey } from '../../app/sleeve/owner-key.ts';
import { sameName } from '../../base/babies.ts';
import { PlainError } from '../../base/errors.ts';
import { flOzFromMl } from '../../base/units.ts';
import { aloneFeeds } from '../../calibration/alone/kept-feeds.ts';
import { parseCalibration } from '../../sensing/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { say } from '../print-out.ts';
import { withStore } from '../with-store.ts';

export interface AloneOptions {
  port: string;
  baby?: string;
  sound?: boolean;
  json?: boolean;
  forget?: boolean;
}

async function withSleeve(
  port: string,
  act: (talk: AloneTalk, sleeveNumber: number, store: FeedStore) => Promise<void>,
): Promise<void> {
  await withStore({}, async (store, folder) => {
    const link = createSerialLink(port);
    await link.open();
    try {
      const { sleeveNumber } = await firstValueFrom(hello(link));
      await act(aloneTalk(link, ownerKey(folder)), sleeveNumber, store);
    } finally {
      await link.close();
    }
  });
}

/** @throws PlainError if there is no such baby, calibration or sleeve, or the baby must not get pacing cues */
export const aloneOn = ({ port, baby: name, sound = false }: AloneOptions): Promise<void> =>
  withSleeve(port, async (talk, sleeveNumber, store) => {
    const babies = store.listBabies();
    const found = name === undefined ? babies : babies.filter((one) => sameName(one.name, name));
    const [baby] = found;
    if (!baby || found.length > 1)
      throw new PlainError(
        'alone-whom',
        found.length > 1
          ? 'Several babies are kept.'
          : 'No such baby is kept: a sleeve guides alone only one whose questions are answered.',
        found.length > 1 ? 'Say whom with --baby NAME.' : 'Enter it on the page under "Before a feed".',
      );
    const kept = store.calibrationFor(String(sleeveNumber));
    if (!kept)
      throw new PlainError(
        'calibration-none',
        `There is no calibration for sleeve ${sleeveNumber}.`,
        'Calibrate it first: ebbline sleeve calibrate.',
      );
    const profile = aloneProfileFor(baby, pastFeeds(store, baby.id), sound, Date.now());
    const { generation } = await talk.state();
    const calibration = parseCalibration(kept, `kept for sleeve ${sleeveNumber}`);
    await talk.turnOn(
      aloneBlock(calibration, profile, { sleeveNumber, generation: (generation + 1) & 0xff }),
    );
    say(
      `Sleeve ${sleeveNumber} now guides ${baby.name} by itself while no host does. It knows less than the host: watch the baby, not the sleeve. Off again: ebbline sleeve alone off.`,
    );
  });

export const aloneOff = ({ port }: AloneOptions): Promise<void> =>
  withSleeve(port, async (talk, sleeveNumber) => {
    await talk.turnOff();
    say(`Sleeve ${sleeveNumber} no longer guides by itself.`);
  });

export const aloneKept = ({ port, json = false, forget = false }: AloneOptions): Promise<void> =>
  withSleeve(port, async (talk, sleeveNumber, store) => {
    const feeds = aloneFeeds(await talk.fetchFeeds());
    keepAloneFeeds(store, feeds, { sleeveId: String(sleeveNumber), fetchedAtMs: Date.now() });
    if (json) say(JSON.stringify({ sleeveNumber, byTheSleeveAlone: feeds }));
    else {
      say(`${feeds.length} feeds by the sleeve alone, oldest first; it knows no dates.`);
      for (const { intakeMl, intakeSdMl, perMinuteMl, tooFast } of feeds)
        say(
          `  ${flOzFromMl(intakeMl).toFixed(1)} fl oz (${intakeMl.toFixed(0)} mL, give or take ${(2 * intakeSdMl).toFixed(0)}), ${perMinuteMl.length} min, "too fast" ${tooFast ?? 'unknown'} times; mL a minute: ${perMinuteMl.map((ml) => ml.toFixed(0)).join(' ')}`,
        );
    }
    if (forget) await talk.forgetFeeds();
  });
