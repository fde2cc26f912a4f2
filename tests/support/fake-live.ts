/** A live feed that shows what a test sets, and records the commands it gets. */
import { BehaviorSubject } from 'rxjs';
import type { LiveCommand, LiveView } from '../../src/feed/live/live-view.ts';
import type { FeedSetup } from '../../src/feed/record/feed.ts';
import type { LiveSource } from '../../src/server/needs.ts';

export const EMPTY_SETUP: FeedSetup = {
  babyName: null,
  babyBirthDate: null,
  bottleName: null,
  milkKind: null,
  portionMl: null,
  caregiver: null,
};

/** Conspicuous numbers, to find them on a page that must not show them. */
export const TELLTALE_NUMBERS: LiveView['numbers'] = {
  milkMl: 61.4,
  flowMlPerMin: 23.7,
  intakeMl: 28.6,
  tiltDeg: 97.3,
  accepted: 14321,
  rejected: 12,
  missing: 3,
};

export function viewOf(part: Partial<LiveView> = {}): LiveView {
  return {
    showing: 'gentle',
    because: null,
    feedId: 'feed-1',
    feedState: 'open',
    feedElapsedSec: 312,
    teatInMouth: true,
    aheadOfPace: 0.35,
    muted: true,
    dimmed: false,
    guidanceOff: false,
    simulated: true,
    linkLabel: 'simulated sleeve',
    qualityReason: null,
    notice: null,
    setup: EMPTY_SETUP,
    numbers: TELLTALE_NUMBERS,
    ...part,
  };
}

/** Applies switches like the real live feed, so that a page can also be tried by hand. */
export class FakeLive implements LiveSource {
  readonly view$: BehaviorSubject<LiveView>;
  readonly commands: LiveCommand[] = [];
  refuseWith: Error | null = null;

  constructor(first: LiveView = viewOf()) {
    this.view$ = new BehaviorSubject(first);
  }

  show(part: Partial<LiveView>): void {
    this.view$.next({ ...this.view$.value, ...part });
  }

  /** Sends the same view again, as the real one does twice a second. */
  repeat(): void {
    this.view$.next(this.view$.value);
  }

  command(command: LiveCommand): void {
    if (this.refuseWith) throw this.refuseWith;
    this.commands.push(command);
    if (command.kind === 'mute') this.show({ muted: command.on });
    if (command.kind === 'dim') this.show({ dimmed: command.on });
    if (command.kind === 'guidance-off') {
      this.show({ guidanceOff: command.on, showing: command.on ? 'guidance-off' : 'gentle' });
    }
    if (command.kind === 'end-feed') this.show({ feedState: 'ended', showing: 'waiting', aheadOfPace: null });
    if (command.kind === 'discard-feed')
      this.show({ feedState: 'discarded', showing: 'waiting', aheadOfPace: null });
    if (command.kind === 'setup') this.show({ setup: command.setup });
  }
}
