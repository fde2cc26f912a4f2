/** Collects the sessions that are set aside, with their reasons. */
import type { SetAside } from '../../../research/study/eligible.ts';

export interface ListedAside {
  session: string;
  why: SetAside;
}

export class Seen {
  readonly list: ListedAside[] = [];
  readonly #captures = new Set<string>();

  /** @returns why a session is set aside; also the second of two with the same raw counts, whatever its feed's id */
  whyNot(session: string, setAside: SetAside | null, captureSha256: string | null): SetAside | null {
    const isAgain = captureSha256 !== null && this.#captures.has(captureSha256);
    const why = setAside ?? (isAgain ? 'duplicate' : null);
    if (why !== null) this.list.push({ session, why });
    if (captureSha256 !== null) this.#captures.add(captureSha256);
    return why;
  }
}
