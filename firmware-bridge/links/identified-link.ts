/**
 * A link that knows whose bytes it passes on. After each return of the link and each reset of the chip the sleeve is asked who it is; what
 * it sends meanwhile is held back. Another sleeve's bytes never go on as if they were the first one's.
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
  /** Which sleeve it is, as `hello` told. */
  identity: Identity;
  /**
   * Another sleeve is there now. On return its bytes go on as its own.
   * @throws PlainError when there can be no guidance with it; it is told as the link's trouble, and its bytes are dropped
   */
  onOther: (identity: Identity) => void;
}

const ASK_EVERY_MS = 500;

/** A chip that was reset by the opening of its port answers within some 2 s. */
const PATIENCE_MS = 4000;

/** Some 4 s of a sleeve that sends 3,700 bytes a second. */
const MOST_HELD_BYTES = 16 * 1024;

/** `open`: its bytes go on. `asking`: they wait for its name. `refused`: they are another's, and are dropped. */
type Gate = 'open' | 'asking' | 'refused';

/** @param link  open already, and answered `hello` */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one gate, whose steps share the bytes held back and the word awaited
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
    // The same word of one that was refused already changes nothing.
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
          // Whatever comes after it has to say its name first.
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
