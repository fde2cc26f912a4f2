/** `ebbline start` as a process: what it refuses, what it shows, and what is left of a feed when it is killed. */
import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import type { KeptFeed } from '../../src/feed/record/feed.ts';
import { openStore } from '../../src/store/open-store.ts';
import { capturePath } from '../support/captures.ts';
import { requireBuild, runCommand, startCommand } from '../support/command.ts';
import { createFakeSleeve } from '../support/fake-sleeve.ts';
import { noPseudoTerminal, openPseudoTerminal } from '../support/pseudo-terminal.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

beforeAll(requireBuild);

/** @returns the message with which a start is refused */
async function refusalOf(data: string, ...args: string[]): Promise<string> {
  const { code, stdout, stderr } = await runCommand(['start', '--page-port', '0', ...args], { data });
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  // One line, without a stack trace.
  expect(stderr).toMatch(/^ebbline: [^\n]+\n$/);
  return stderr;
}

describe('start refuses', () => {
  it('a port that is not there, and says which there are', async () => {
    expect(await refusalOf(temporaryFolder(), '--port', '/dev/nonexistent')).toMatch(
      /There is no serial port \/dev\/nonexistent\. \S.*(port|tty)/,
    );
  });

  it('a page port that is taken', async () => {
    const other = createServer().listen(0, '127.0.0.1');
    await once(other, 'listening');
    onTestFinished(() => void other.close());
    const { port } = other.address() as AddressInfo;
    expect(await refusalOf(temporaryFolder(), '--page-port', String(port))).toMatch(
      new RegExp(`port ${port} .*already in use.*--page-port`),
    );
  });

  it.skipIf(noPseudoTerminal !== null)(
    'a sleeve that it has no calibration for, but not one that it has',
    async () => {
      const data = temporaryFolder();
      const port = join(data, 'sleeve');
      const cable = await openPseudoTerminal(port);
      onTestFinished(() => cable.pull());
      const sleeve = createFakeSleeve();
      sleeve.samples = false;
      cable.onBytes((bytes) => {
        sleeve.receive(bytes);
        const answers = sleeve.advance(0);
        if (answers.length > 0) cable.send(answers);
      });
      expect(await refusalOf(data, '--port', port)).toMatch(
        /no calibration for sleeve 4711.*--calibration FILE/,
      );
      const first = startCommand(
        ['start', '--port', port, '--page-port', '0', '--calibration', capturePath('calm', 'cal.json')],
        { data },
      );
      await first.says(/watches the sleeve on .*sleeve/);
      first.child.kill('SIGINT');
      expect((await first.ended).code).toBe(0);
      // The next time it knows the sleeve.
      const second = startCommand(['start', '--port', port, '--page-port', '0'], { data });
      await second.says(/watches the sleeve on/);
      second.child.kill('SIGINT');
      expect((await second.ended).code).toBe(0);
    },
  );
});

/** Looks at the live page until `isEnough`; gives all views. */
async function watch(url: string, isEnough: (views: LiveView[]) => boolean): Promise<LiveView[]> {
  const stop = new AbortController();
  const response = await fetch(`${url}live`, { signal: stop.signal });
  const views: LiveView[] = [];
  let text = '';
  try {
    for await (const chunk of response.body!.pipeThrough(new TextDecoderStream())) {
      text += chunk;
      const events = text.split('\n\n');
      text = events.pop()!;
      for (const event of events) {
        const data = event.match(/^data: (.*)$/m)?.[1];
        if (data) views.push(JSON.parse(data) as LiveView);
      }
      if (isEnough(views)) return views;
    }
  } finally {
    stop.abort();
  }
  throw new Error('the page ended');
}

describe('a process that is killed in the middle of a feed', () => {
  it('loses a second at most; the next start finds the feed, refines it and says so', async () => {
    const data = temporaryFolder();
    const args = ['start', '--page-port', '0', '--scenario', 'tipped-up', '--speed', '30'];
    const first = startCommand(args, { data });
    const [, url] = await first.says(/(http:\/\/\S+)/);
    // Unchanged views come at every second tick, and parts are stored at every tenth:
    // so the sixth view from the end is stored.
    const onDisk = (seen: LiveView[]): LiveView | undefined =>
      seen.filter((view, i) => view.feedState === 'open' && view.showing === seen[i - 1]?.showing).at(-6);
    const views = await watch(url!, (seen) => onDisk(seen)?.showing === 'tilt-down');
    first.child.kill('SIGKILL');
    expect((await first.ended).code).toBeNull();

    const second = startCommand(args, { data });
    await second.says(
      /The feed of .* was interrupted; it is kept as far as it went\.[\s\S]*Stop with Ctrl-C/,
    );
    // Its refined pass is made aside; whoever stops the program waits for it.
    second.child.kill('SIGTERM');
    await second.ended;

    const { stdout } = await runCommand(['feeds', '--simulated', '--json'], { data });
    const feeds: { id: string; state: string }[] = JSON.parse(stdout);
    const oldest = feeds.at(-1)!;
    expect(oldest).toMatchObject({ state: 'ended', endReason: 'link-ended' });
    const store = openStore(join(data, 'simulated'));
    const kept = store.get(oldest.id) as KeptFeed;
    store.close();
    const seenSec = onDisk(views)!.feedElapsedSec!;
    const latchSec = kept.events.find(({ kind }) => kind === 'teat-in')!.atSec;
    expect(kept.rows.at(-1)!.atSec - latchSec).toBeGreaterThanOrEqual(seenSec - 0.5);
    expect(kept.cues.some(({ kind }) => kind === 'tilt-down')).toBe(true);
    // A "lower the bottle" cue needs 6 mL ahead of the pace.
    expect(kept.refined!.totals.intakeMl).toBeGreaterThan(8);
    expect(kept.intakeMl).toBeCloseTo(kept.refined!.totals.intakeMl, 3);
  });

  it('asked to stop it ends the feed, and says nothing on the error line', async () => {
    const data = temporaryFolder();
    const running = startCommand(['start', '--page-port', '0', '--speed', '40'], { data });
    const [, url] = await running.says(/(http:\/\/\S+)/);
    await watch(url!, (seen) => seen.at(-1)!.feedState === 'open');
    running.child.kill('SIGINT');
    const { code, stdout, stderr } = await running.ended;
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toContain('nothing here is a real baby');
    const store = openStore(join(data, 'simulated'));
    expect(store.list()).toMatchObject([{ state: 'ended', endReason: 'link-ended', simulated: true }]);
    expect(store.unfinished()).toEqual([]);
    store.close();
  });

  it('does not let a second one record into the same folder', async () => {
    const data = temporaryFolder();
    const running = startCommand(['start', '--page-port', '0'], { data });
    await running.says(/Page for the caregiver/);
    expect(await refusalOf(data)).toMatch(/Another Ebbline is recording.*Stop that one/);
  });
});
