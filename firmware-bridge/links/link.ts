import type { Observable } from 'rxjs';

/** Where a link stands. `lost`: it was open and is being tried again; `reason` is a plain sentence. */
export type LinkState =
  | { kind: 'opening' }
  | { kind: 'open' }
  | { kind: 'lost'; reason: string }
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
