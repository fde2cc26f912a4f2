import type { Observable } from 'rxjs';

/** What is wrong with a connected sleeve: it does not report its identity, or it is another one. */
export type LinkTrouble = 'sleeve-nameless' | 'other-sleeve';

/** State of a link. `lost`: it was open and is being opened again; `reason` is a plain sentence, `trouble` its cause if that has a name. */
export type LinkState =
  | { kind: 'opening' }
  | { kind: 'open' }
  | { kind: 'lost'; reason: string; trouble?: LinkTrouble }
  | { kind: 'ended' };

/**
 * Source of a sleeve's bytes: a serial port, a capture file, a simulated or an emulated sleeve.
 * Code above a link does not know which. Bytes come as received, in chunks of any size.
 */
export interface SleeveLink {
  /** For people: "simulated sleeve", "/dev/ttyUSB0", "calm.cap.gz". */
  readonly label: string;
  /** Hot: bytes from the sleeve. Completes when no more can come. */
  readonly bytes$: Observable<Uint8Array>;
  /** Replays the latest state to a late subscriber. */
  readonly state$: Observable<LinkState>;
  /** @throws PlainError if the link cannot be opened (unknown port, no permission, busy). */
  open(): Promise<void>;
  /** Bytes to the sleeve; silently dropped while the link is lost, as with a pulled cable. */
  write(bytes: Uint8Array): void;
  close(): Promise<void>;
}
