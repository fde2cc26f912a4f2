/** Lines of the logs of a study. */

/** A feed of the store that belongs to a participant. */
export interface Session {
  session: string;
  feed: string;
  participant: string;
  arm: string;
  boundAtMs: number;
}

export interface AuditLine {
  atMs: number;
  what:
    | 'begun'
    | 'enrolled'
    | 'bound'
    | 'exported'
    | 'drawn'
    | 'recomputed'
    | 'learned'
    | 'withdrawn'
    | 'closed';
  /** A code or a number, never a name. */
  about: string;
}
