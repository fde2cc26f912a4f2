/**
 * The stored list of feeds by a sleeve alone: each feed once, however often it is fetched. The sleeve has no calendar, so the
 * date is that of fetching. Pure.
 */
import { z } from 'zod';
import type { AloneFeed } from './kept-feeds.ts';

const feedSchema = z.object({
  id: z.string(),
  sleeveId: z.string(),
  fetchedAtMs: z.number(),
  serial: z.number(),
  tooFast: z.number().nullable(),
  burps: z.number().nullable(),
  guidedMinutes: z.number().nullable(),
  intakeMl: z.number(),
  intakeSdMl: z.number(),
  perMinuteMl: z.array(z.number()),
});

export type KeptAloneFeed = AloneFeed & { id: string; sleeveId: string; fetchedAtMs: number };

/** Limit of the list; the oldest are dropped. A sleeve stores ten. */
const MOST = 500;

/** @returns the stored list; empty if the data cannot be read */
export function readAloneFeeds(data: unknown): KeptAloneFeed[] {
  const parsed = z.array(feedSchema).safeParse(data);
  return parsed.success ? parsed.data : [];
}

/** A feed fetched while it ran is the same feed later with more minutes. */
const isSame = (kept: KeptAloneFeed, feed: AloneFeed, sleeveId: string): boolean =>
  kept.sleeveId === sleeveId &&
  kept.serial === feed.serial &&
  kept.perMinuteMl.every((ml, minute) => ml === feed.perMinuteMl[minute]);

/** A feed guided by a host was stored by the host; one without a whole minute is not counted. */
const isBySleeve = ({ guidedMinutes, perMinuteMl }: AloneFeed): boolean =>
  !guidedMinutes && perMinuteMl.length > 0;

/**
 * @param fetched oldest first, as `aloneFeeds` gives them
 * @returns the new list, oldest first, and the number of new feeds
 */
export function mergeAloneFeeds(
  kept: readonly KeptAloneFeed[],
  fetched: readonly AloneFeed[],
  { sleeveId, fetchedAtMs }: { sleeveId: string; fetchedAtMs: number },
): { feeds: KeptAloneFeed[]; added: number } {
  const feeds = [...kept];
  let no = Math.max(0, ...kept.map(({ id }) => Number(id)));
  let added = 0;
  for (const feed of fetched.filter(isBySleeve)) {
    const at = feeds.findLastIndex((one) => isSame(one, feed, sleeveId));
    if (at >= 0) feeds[at] = { ...feeds[at]!, ...feed };
    else {
      no += 1;
      added += 1;
      feeds.push({ ...feed, id: String(no), sleeveId, fetchedAtMs });
    }
  }
  return { feeds: feeds.slice(-MOST), added };
}
