/** Replaces the live feed when no sleeve is attached: the page is told so, and commands that need a sleeve are refused. */
import { BehaviorSubject, interval, map, merge, type Observable } from 'rxjs';
import { PlainError } from '../../base/errors.ts';
import type { LiveCommand, LiveView } from '../../feed/live/live-view.ts';
import type { FeedStore } from '../../store/feed-store.ts';

/** Pages treat a second without a view as "no guidance". */
const VIEW_EVERY_MS = 400;

type AnswersStore = Pick<FeedStore, 'readSetup' | 'writeSetup' | 'readSoundOn' | 'writeSoundOn'>;

export interface NoSleeve {
  readonly view$: Observable<LiveView>;
  /** Answers before a feed, sound and dimming are stored. @throws PlainError no-sleeve for all other commands */
  command(command: LiveCommand): void;
}

/** @param simulated whether the stored feeds are simulated */
export function noSleeve(store: AnswersStore, simulated: boolean): NoSleeve {
  const view = new BehaviorSubject(viewWithout(store, simulated));
  const show = (part: Partial<LiveView>) => view.next({ ...view.value, ...part });
  return {
    view$: merge(view, interval(VIEW_EVERY_MS).pipe(map(() => view.value))),
    command(command) {
      switch (command.kind) {
        case 'setup':
          store.writeSetup(command.setup);
          return show({ setup: command.setup });
        case 'mute':
          store.writeSoundOn(!command.on);
          return show({ muted: command.on });
        case 'dim':
          return show({ dimmed: command.on });
        default:
          throw new PlainError(
            'no-sleeve',
            'No sleeve is attached: this takes one.',
            'Stop Ebbline and start it with the sleeve: ebbline start --port DEVICE.',
          );
      }
    },
  };
}

const viewWithout = (store: AnswersStore, simulated: boolean): LiveView => ({
  showing: 'no-guidance',
  because: 'No sleeve is attached.',
  noSleeve: true,
  feedId: null,
  feedState: 'none',
  feedElapsedSec: null,
  teatInMouth: false,
  aheadOfPace: null,
  muted: !store.readSoundOn(),
  dimmed: false,
  guidanceOff: false,
  simulated,
  linkLabel: 'no sleeve',
  qualityReason: null,
  notice: null,
  setup: store.readSetup(),
  numbers: {
    milkMl: null,
    flowMlPerMin: null,
    intakeMl: null,
    tiltDeg: null,
    accepted: 0,
    rejected: 0,
    missing: 0,
  },
});
