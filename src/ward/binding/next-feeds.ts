/** What each feed of a child begins with; at home a family enters it before a feed. Types only. */

export interface NextFeeds {
  /** The nipple, by the name under which it was measured. */
  teat: string | null;
  /** The study to which the child's feeds belong, and as which participant, while the family takes part. */
  study: string | null;
  participant: string | null;
}
