/** The feeds that a sleeve stored while it was alone (hardware/firmware/alone_feeds.c). Pure. */
import { MILK_DENSITY_GRAMS_PER_ML } from '../../base/units.ts';

const FEEDS = 10;
const FEED_BYTES = 54;
export const FEEDS_BYTES = FEEDS * FEED_BYTES;
const HEAD_BYTES = 8;
const SERIALS = 250;
const NONE = 0xff;
/** Exclusive-or of the bytes of a complete head. */
const WHOLE = 0x5a;
/** On ten captures by two other simulators the intake of a whole feed was off by 2.7 mL at most; enlarged for a built sleeve. Own estimate. */
const INTAKE_SD_ML = 3;
const INTAKE_SD_SHARE = 0.05;

export interface AloneFeed {
  /** Increases by one with each feed, 0 to 249. */
  serial: number;
  /** Null where the head is incomplete, because the battery failed while it was written; the intake is then the sum of its whole minutes. */
  tooFast: number | null;
  burps: number | null;
  /** Number of its minutes in which a host guided. */
  guidedMinutes: number | null;
  intakeMl: number;
  /** Standard deviation: larger than for a feed measured with a host. */
  intakeSdMl: number;
  /** mL in each whole minute from the first latch on. */
  perMinuteMl: number[];
}

/** @returns the feeds of the sleeve's bytes, oldest first; empty places are left out */
export function aloneFeeds(bytes: Uint8Array): AloneFeed[] {
  const feeds: AloneFeed[] = [];
  for (let place = 0; place < FEEDS; place++) {
    const record = bytes.subarray(place * FEED_BYTES, (place + 1) * FEED_BYTES);
    if (record.length !== FEED_BYTES || record[0]! >= SERIALS) continue;
    const feed = feedOf(record);
    if (feed) feeds.push(feed);
  }
  // At most ten in sequence: a gap of more than half the serials is where they wrap.
  return feeds.sort((one, other) => {
    const apart = one.serial - other.serial;
    return Math.abs(apart) > SERIALS / 2 ? -apart : apart;
  });
}

function feedOf(record: Uint8Array): AloneFeed | null {
  const ml = (grams: number) => grams / MILK_DENSITY_GRAMS_PER_ML;
  const minutes = record.subarray(HEAD_BYTES);
  const end = minutes.indexOf(NONE);
  const perMinuteMl = [...(end < 0 ? minutes : minutes.subarray(0, end))].map((quarter) => ml(quarter / 4));
  const isWhole = record.subarray(0, HEAD_BYTES).reduce((sum, byte) => (sum + byte) & 0xff, 0) === WHOLE;
  if (!isWhole && perMinuteMl.length === 0) return null;
  const intakeMl = isWhole
    ? ml((record[4]! | (record[5]! << 8)) / 16)
    : perMinuteMl.reduce((sum, minute) => sum + minute, 0);
  return {
    serial: record[0]!,
    tooFast: isWhole ? record[1]! : null,
    burps: isWhole ? record[2]! : null,
    guidedMinutes: isWhole ? record[3]! : null,
    intakeMl,
    intakeSdMl: Math.hypot(INTAKE_SD_ML, INTAKE_SD_SHARE * intakeMl),
    perMinuteMl,
  };
}
