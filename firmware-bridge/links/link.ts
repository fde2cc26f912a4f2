import type { Observable } from 'rxjs';

/** What is the matter with a sleeve that is there: it does not say who it is, or it is another one. */
export type LinkTrouble = 'sleeve-nameless' | 'other-sleeve';

/** Where a link stands. `lost`: it was open and is being tried again; `reason` is a plain sentence, `trouble` what it is about where it has a name. */
export type LinkState =
  | { kind: 'opening' }
  | { kind: 'open' }
  | { kind: 'lost'; reason: string; trouble?: LinkTrouble }
  | { kind: 'ended' };

/**
 * Where a sleeve's bytes come from: a serial port, a capture file, a simulated or an emulated sleeve.
 * Nothing above a link knows which. Bytes arrive as they came, in any split.
 */
export interface SleeveLink {
  /** For people: "simulated sleeve", "/dev/ttyUSB0", "calm.cap.gz". */
  readonly label: string;
  /** Hot: bytes from the sleeve. Completes when the link can give no more. */
  readonly bytes$: Observable<Uint8Array>;
  /** Replays the latest state to a late subscriber. */
  readonly state$: Observable<LinkState>;
  /** @throws PlainError when the link cannot be opened at all (unknown port, no permission, busy). */
  open(): Promise<void>;
  /** Bytes to the sleeve; dropped silently while the link is lost, as a pulled cable would. */
  write(bytes: Uint8Array): void;
  close(): Promise<void>;
}
