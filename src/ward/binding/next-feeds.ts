/** What each feed of a child begins with, as a family answers it at home before a feed. Types only. */

export interface NextFeeds {
  /** The nipple, by the name under which it was measured. */
  teat: string | null;
  /** The study that feeds are sessions of, and as which participant; while the family takes part. */
  study: string | null;
  participant: string | null;
}
