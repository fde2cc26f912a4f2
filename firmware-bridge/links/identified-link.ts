/**
 * A link that knows which sleeve its bytes come from. Each time the link returns or the chip was reset, the sleeve is asked for its identity;
 * its bytes are held back meanwhile. So bytes of another sleeve are never taken for those of the first.
 */
import { interval, ReplaySubject, type SchedulerLike, Subject, Subscription, startWith, timer } from 'rxjs';
import { PlainError } from '../../src/base/errors.ts';
import {
  createScanner,
  encodeRequest,
  type Identity,
  MESSAGES,
  scan,
  stepTimeline,
  TIMELINE_START,
} from '../wire/index.ts';
import { otherVersion } from './hello.ts';
import type { LinkState, LinkTrouble, SleeveLink } from './link.ts';
import { monotonic } from './monotonic.ts';

export interface IdentifiedLinkOptions {
  /** The sleeve, as `hello` reported it. */
  identity: Identity;
  /**
   * Called when another sleeve is connected; when it returns, that sleeve's bytes are passed on.
   * @throws PlainError if there can be no guidance with it; it is reported as the link's trouble, and its bytes are dropped
   */
  onOther: (identity: Identity) => void;
}

const ASK_EVERY_MS = 500;

/** A chip that was reset by opening its port answers within some 2 s. */
const PATIENCE_MS = 4000;

/** Some 4 s of a sleeve that sends 3,700 bytes a second. */
const MOST_HELD_BYTES = 16 * 1024;

/** `open`: bytes are passed on. `asking`: they wait for the identity. `refused`: they are another sleeve's, and are dropped. */
type Gate = 'open' | 'asking' | 'refused';

/** @param link  already open, and has answered `hello` */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one gate, whose steps share the held bytes and the pending answer
export function createIdentifiedLink(
  link: SleeveLink,
  options: IdentifiedLinkOptions,
  scheduler: SchedulerLike = monotonic,
): SleeveLink {
  const bytes$ = new Subject<Uint8Array>();
  const state$ = new ReplaySubject<LinkState>(1);
  const everything = new Subscription();
  const scanner = createScanner();
  let timeline = TIMELINE_START;
  let known = options.identity;
  let gate: Gate = 'open';
  let told: LinkState = { kind: 'opening' };
  let held: Uint8Array[] = [];
  let heldBytes = 0;
  let asking = Subscription.EMPTY;

  const tell = (state: LinkState): void => {
    told = state;
    state$.next(state);
  };
  const refuse = (trouble: LinkTrouble, reason: string): void => {
    gate = trouble === 'sleeve-nameless' ? 'asking' : 'refused';
    held = [];
    heldBytes = 0;
    tell({ kind: 'lost', reason, trouble });
  };
  const ask = (): void => {
    asking.unsubscribe();
    gate = 'asking';
    asking = new Subscription();
    asking.add(
      interval(ASK_EVERY_MS, scheduler)
        .pipe(startWith(0))
        .subscribe(() => link.write(encodeRequest(MESSAGES.IDENTITY))),
    );
    asking.add(timer(PATIENCE_MS, scheduler).subscribe(() => refuse('sleeve-nameless', nameless(link))));
  };
  const hold = (bytes: Uint8Array): void => {
    // A copy: the sender may use its buffer again.
    held.push(Uint8Array.from(bytes));
    heldBytes += bytes.length;
    while (heldBytes > MOST_HELD_BYTES) heldBytes -= held.shift()!.length;
  };
  const letThrough = (): void => {
    asking.unsubscribe();
    gate = 'open';
    if (told.kind !== 'open') tell({ kind: 'open' });
    const waiting = held;
    held = [];
    heldBytes = 0;
    for (const bytes of waiting) bytes$.next(bytes);
  };
  const hear = (identity: Identity): void => {
    if (identity.sleeveNumber === known.sleeveNumber && identity.contractVersion === known.contractVersion) {
      if (gate !== 'open') answered = true;
      return;
    }
    // The same identity was refused already.
    if (gate === 'refused') return;
    asking.unsubscribe();
    try {
      const wrong = otherVersion(link, identity);
      if (wrong) throw wrong;
      options.onOther(identity);
      known = identity;
      answered = true;
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      refuse('other-sleeve', error.text);
    }
  };
  let answered = false;
  const sink = {
    sample(sample: Parameters<typeof stepTimeline>[1]) {
      const { resets } = timeline;
      timeline = stepTimeline(timeline, sample).timeline;
      if (timeline.resets > resets && gate !== 'asking') ask();
    },
    identity: hear,
  };

  everything.add(
    link.bytes$.subscribe({
      next(bytes) {
        answered = false;
        scan(scanner, bytes, sink);
        if (gate === 'open') bytes$.next(bytes);
        else if (gate === 'asking' || answered) hold(bytes);
        if (answered) letThrough();
      },
      complete: () => bytes$.complete(),
    }),
  );
  everything.add(
    link.state$.subscribe({
      next(state) {
        if (state.kind === 'open' && told.kind === 'lost') return ask();
        if (state.kind === 'lost') {
          asking.unsubscribe();
          // Bytes after the reset wait for the identity.
          gate = 'asking';
        }
        tell(state);
      },
      complete: () => state$.complete(),
    }),
  );

  return {
    label: link.label,
    bytes$: bytes$.asObservable(),
    state$: state$.asObservable(),
    open: () => link.open(),
    write: (bytes) => link.write(bytes),
    async close() {
      asking.unsubscribe();
      await link.close();
      everything.unsubscribe();
    },
  };
}

const nameless = (link: SleeveLink): string =>
  `The sleeve on ${link.label} does not say which one it is. Switch it off and on again.`;
