/** Guiding alone as the command line orders it: whom, by which calibration, and what the sleeve kept of it. */
import { sameName } from '../../base/babies.ts';
import { PlainError } from '../../base/errors.ts';
import { flOzFromMl } from '../../base/units.ts';
import { type AloneFeed, aloneFeeds } from '../../calibration/alone/kept-feeds.ts';
import type { Baby } from '../../feed/record/baby.ts';
import { parseCalibration } from '../../sensing/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { pastFeeds } from '../babies/babies-service.ts';
import { aloneBlock } from './alone-block.ts';
import { aloneProfileFor } from './alone-for.ts';
import type { AloneTalk } from './alone-talk.ts';
import { keepAloneFeeds } from './fetched-alone.ts';

export interface SleeveOrdered {
  talk: AloneTalk;
  sleeveNumber: number;
  store: FeedStore;
  nowMs: number;
}

/** @returns whom it guides now, in words @throws PlainError when there is no such baby or calibration, or the baby is not to be paced */
export async function turnOnAlone(
  { talk, sleeveNumber, store, nowMs }: SleeveOrdered,
  { baby: name, sound = false }: { baby?: string; sound?: boolean },
): Promise<string> {
  const baby = babyToGuide(store, name);
  const kept = store.calibrationFor(String(sleeveNumber));
  if (!kept)
    throw new PlainError(
      'calibration-none',
      `There is no calibration for sleeve ${sleeveNumber}.`,
      'Calibrate it first: ebbline sleeve calibrate.',
    );
  const profile = aloneProfileFor(baby, pastFeeds(store, baby.id), sound, nowMs);
  const generation = ((await talk.state()).generation + 1) & 0xff;
  const calibration = parseCalibration(kept, `kept for sleeve ${sleeveNumber}`);
  await talk.turnOn(aloneBlock(calibration, profile, { sleeveNumber, generation }));
  return `Sleeve ${sleeveNumber} now guides ${baby.name} by itself while no host does. It knows less than the host: watch the baby, not the sleeve. Off again: ebbline sleeve alone off.`;
}

export async function turnOffAlone({ talk, sleeveNumber }: SleeveOrdered): Promise<string> {
  await talk.turnOff();
  return `Sleeve ${sleeveNumber} no longer guides by itself.`;
}

function babyToGuide(store: FeedStore, name: string | undefined): Baby {
  const babies = store.listBabies();
  const [baby, other] = name === undefined ? babies : babies.filter((one) => sameName(one.name, name));
  if (baby && !other) return baby;
  throw other
    ? new PlainError('alone-whom', 'Several babies are kept.', 'Say whom with --baby NAME.')
    : new PlainError(
        'alone-whom',
        'No such baby is kept: a sleeve guides alone only one whose questions are answered.',
        'Enter it on the page under "Before a feed".',
      );
}

export async function fetchAlone({ talk, sleeveNumber, store, nowMs }: SleeveOrdered): Promise<AloneFeed[]> {
  const feeds = aloneFeeds(await talk.fetchFeeds());
  keepAloneFeeds(store, feeds, { sleeveId: String(sleeveNumber), fetchedAtMs: nowMs });
  return feeds;
}

export const aloneText = (feeds: readonly AloneFeed[]): string[] => [
  `${feeds.length} feeds by the sleeve alone, oldest first; it knows no dates.`,
  ...feeds.map(
    ({ intakeMl, intakeSdMl, perMinuteMl, tooFast }) =>
      `  ${flOzFromMl(intakeMl).toFixed(1)} fl oz (${intakeMl.toFixed(0)} mL, give or take ${(2 * intakeSdMl).toFixed(0)}), ${perMinuteMl.length} min, "too fast" ${tooFast ?? 'unknown'} times; mL a minute: ${perMinuteMl.map((ml) => ml.toFixed(0)).join(' ')}`,
  ),
];
