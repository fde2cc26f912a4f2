import { BehaviorSubject } from 'rxjs';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { terminalLines } from '../../src/cli/terminal.ts';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import { TELLTALE_NUMBERS, viewOf } from '../support/fake-live.ts';

const wasTty = process.stdout.isTTY;

/** What is written where standard output is a terminal, or is none. */
function watched(isTty: boolean, quiet = false) {
  let written = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    written += String(text);
    return true;
  });
  process.stdout.isTTY = isTty;
  const view$ = new BehaviorSubject(viewOf({ showing: 'gentle', feedElapsedSec: 60 }));
  const lines = terminalLines(view$, { quiet });
  return {
    show: (part: Partial<LiveView>) => view$.next({ ...view$.value, ...part }),
    written: () => written,
    stop: () => lines.unsubscribe(),
  };
}

describe('the terminal', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => {
    vi.useRealTimers();
    process.stdout.isTTY = wasTty;
    vi.restoreAllMocks();
  });

  it('says each cue once as it comes, with its time and reason', () => {
    const terminal = watched(false);
    terminal.show({
      showing: 'tilt-down',
      because: { rule: 'breath-pause', numbers: { sucks: 9 } },
      feedElapsedSec: 83.4,
    });
    terminal.show({ feedElapsedSec: 84 });
    terminal.show({ showing: 'gentle', because: null });
    expect(terminal.written()).toBe(
      '1:23  Lower your hand: bottom of the bottle down, nipple stays in. (9 sucks without a pause.)\n',
    );
    terminal.stop();
  });

  it('has words for every cue, those of a family’s guidance too', () => {
    const terminal = watched(false);
    terminal.show({ showing: 'breath-pause', because: null, feedElapsedSec: 60 });
    terminal.show({ showing: 'asleep-early' });
    expect(terminal.written()).toMatch(/^1:00 {2}A short rest.*\n1:00 {2}Let baby rest/);
    terminal.stop();
  });

  it('says once that a feed is over, whatever is shown afterwards', () => {
    const terminal = watched(false);
    terminal.show({ feedState: 'ended', showing: 'waiting' });
    terminal.show({ showing: 'no-guidance' });
    terminal.show({ showing: 'waiting' });
    expect(terminal.written().match(/is over/g)).toHaveLength(1);
    terminal.stop();
  });

  it('says where to find the feed when it is over, in a way that works for a simulated one too', () => {
    const terminal = watched(false);
    terminal.show({ feedState: 'ended', showing: 'waiting' });
    expect(terminal.written()).toMatch(/ebbline feeds graph feed-1 --simulated\n$/);
    terminal.show({ feedState: 'open', simulated: false });
    terminal.show({ feedState: 'ended', showing: 'waiting' });
    expect(terminal.written()).toMatch(/ebbline feeds graph feed-1\n$/);
    terminal.stop();
  });

  it('says "kept" only once it is; before, what to do so that it will be', () => {
    const terminal = watched(false);
    terminal.show({ notice: 'The disk is full. Free some space.' });
    terminal.show({ feedElapsedSec: 61 });
    terminal.show({ feedState: 'ended', showing: 'waiting', unkept: ['feed-1'] });
    terminal.show({ feedElapsedSec: 62 });
    expect(terminal.written()).toMatch(
      /^The disk is full\. Free some space\.\nThe feed is over but NOT kept yet: .* Leave it running: .*\n$/,
    );
    expect(terminal.written()).not.toContain('over and kept');
    terminal.show({ notice: null, unkept: [] });
    expect(terminal.written()).toMatch(/\nThe feed is over and kept\. .*\n$/);
    terminal.stop();
  });

  it('says of a feed before the open one that it is kept at last', () => {
    const terminal = watched(false);
    terminal.show({ feedState: 'ended', showing: 'waiting', unkept: ['feed-1'] });
    terminal.show({ feedId: 'feed-2', feedState: 'open', showing: 'gentle' });
    terminal.show({ unkept: [] });
    expect(terminal.written()).toMatch(
      /NOT kept yet.*\nThe feed feed-1, which waited in memory, is kept now\.\n$/,
    );
    terminal.stop();
  });

  it('draws one line of numbers over itself, with units; what is not known is a dash', () => {
    const terminal = watched(true);
    terminal.show({ numbers: { ...TELLTALE_NUMBERS, milkMl: null, flowMlPerMin: null, intakeMl: null } });
    vi.advanceTimersByTime(600);
    terminal.show({ teatInMouth: false });
    const last = terminal.written().split('\r').at(-1)!;
    expect(last).toContain('nipple out');
    expect(last).toContain('milk – mL  flow – mL/min  taken – mL  tilt 97°');
    expect(last).toContain('samples 14321 ok, 12 broken, 3 missing');
    expect(last).not.toContain('\n');
    terminal.stop();
  });

  it('writes no numbers where nobody can overwrite them, or when asked to be quiet', () => {
    for (const terminal of [watched(false), watched(true, true)]) {
      terminal.show({ teatInMouth: false });
      vi.advanceTimersByTime(2000);
      terminal.show({ teatInMouth: true });
      expect(terminal.written()).toBe('');
      terminal.stop();
    }
  });
});
