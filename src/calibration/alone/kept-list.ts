/**
 * The feeds by a sleeve alone that were fetched, as they are kept: each once, however often it is fetched. The sleeve knows no
 * dates, so what stands with one is when it was fetched. Pure.
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

/** The oldest go first: a sleeve keeps ten. */
const MOST = 500;

/** @returns what a store kept; nothing where it is not of this kind */
export function readAloneFeeds(data: unknown): KeptAloneFeed[] {
  const parsed = z.array(feedSchema).safeParse(data);
  return parsed.success ? parsed.data : [];
}

/** A feed's minutes only grow, so one that was fetched while it ran is the same later, with more of them. */
const isSame = (kept: KeptAloneFeed, feed: AloneFeed, sleeveId: string): boolean =>
  kept.sleeveId === sleeveId &&
  kept.serial === feed.serial &&
  kept.perMinuteMl.every((ml, minute) => ml === feed.perMinuteMl[minute]);

/** What a host guided it has kept itself; what lasted no minute is no feed. */
const isBySleeve = ({ guidedMinutes, perMinuteMl }: AloneFeed): boolean =>
  !guidedMinutes && perMinuteMl.length > 0;

/**
 * @param fetched oldest first, as `aloneFeeds` gives them
 * @returns all that is to be kept now, oldest first, and how many of them are new
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
