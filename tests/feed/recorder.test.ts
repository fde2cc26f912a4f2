/** When a feed opens, goes on, ends and is discarded, in virtual time on a simulated link. */
import { bufferTime, map } from 'rxjs';
import { describe, expect, it } from 'vitest';
import { readFixture, samplesOf } from '../support/captures.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';
import { expectWhole, poured, scripted } from '../support/live-feeds.ts';
import { liveRun, RUN_STARTS_MS } from '../support/live-run.ts';
import { type FakeFeed, keptBytes, keptEvents, keptRows } from '../support/memory-storage.ts';
import { createScriptedSleeve } from '../support/scripted-sleeve.ts';
import { joined } from '../support/wire.ts';

describe('a feed opens', () => {
  it('at the first latch, with the bytes from 60 s before it', async () => {
    const { run, latch, storage, sent, clock, sleeve } = await scripted();
    await run(92);
    expect(storage.feeds).toHaveLength(0);
    const latchedFrom = clock.nowMs;
    await latch();
    const { summary, parts, partsAtMs, calibration } = storage.only;
    // Lifting the bottle takes the better part of two seconds.
    expect(partsAtMs[0]! - latchedFrom).toBeLessThan(2500);
    // What was sent in the last 60 s, from the beginning of a message on.
    const kept = joined(parts[0]!.bytes);
    const all = joined(sent);
    expect(kept[0]).toBe(0xf0);
    const samples = samplesOf(kept).length;
    expect(samples).toBeGreaterThanOrEqual(60 * 80 - 1);
    expect(samples).toBeLessThanOrEqual(60 * 80 + 4);
    expect(Buffer.from(all).includes(Buffer.from(kept))).toBe(true);
    expect(calibration).toEqual(sleeve.calibration);
    expect(summary).toMatchObject({
      state: 'open',
      endedAtMs: null,
      endReason: null,
      simulated: true,
      sleeveId: 'bench-1',
    });
    expect(summary.startedAtMs).toBe(RUN_STARTS_MS + partsAtMs[0]!);
    expect((summary.startedAtMs - summary.sampleZeroAtMs) / 1000).toBeCloseTo(60, 0);
  });

  it('with all there is when the sleeve was just switched on', async () => {
    const { latch, storage, sent } = await scripted();
    await latch();
    expect(
      Buffer.compare(
        joined(storage.only.parts[0]!.bytes),
        joined(sent).subarray(0, keptBytes(storage.only).length),
      ),
    ).toBe(0);
  });

  it('only once for one latch, however long it lasts', async () => {
    const { latch, run, storage, now } = await scripted();
    await latch();
    await run(60);
    expect(storage.feeds).toHaveLength(1);
    expect(now()).toMatchObject({ feedState: 'open', feedId: 'feed-1', teatInMouth: true });
    expect(now().feedElapsedSec).toBeGreaterThan(59);
    expect(now().feedElapsedSec).toBeLessThan(62);
  });

  it('not at all while nobody drinks', async () => {
    const { stand, storage, now, run, sleeve } = await scripted();
    await stand(1200);
    sleeve.buttonDown = true;
    await run(3);
    expect(storage.feeds).toHaveLength(0);
    expect(now()).toMatchObject({
      showing: 'waiting',
      feedState: 'none',
      feedId: null,
      feedElapsedSec: null,
    });
  });

  it('with what was set up before, and keeps the setup', async () => {
    const { live, latch, storage } = await scripted();
    const setup = { ...EMPTY_SETUP, babyName: 'Wren', portionMl: 60 };
    live.command({ kind: 'setup', setup });
    await latch();
    expect(storage.setup).toEqual(setup);
    expect(storage.only.summary.setup).toEqual(setup);
  });
});

describe('a feed goes on', () => {
  it('through set-downs of many minutes', async () => {
    const { latch, run, stand, storage, now } = await scripted();
    await latch();
    await run(20);
    await stand(20 * 60);
    await latch();
    await run(5);
    await stand(20 * 60);
    await latch();
    await run(1);
    expect(storage.feeds).toHaveLength(1);
    expect(now()).toMatchObject({ feedState: 'open', feedId: 'feed-1' });
    const kinds = keptEvents(storage.only).map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === 'teat-in')).toHaveLength(3);
  });

  it('through a lost link, which is noted', async () => {
    const { latch, run, storage, link, now, sleeve, live } = await scripted();
    await latch();
    await run(20);
    link.unplug();
    await run(0.1);
    expect(now()).toMatchObject({
      showing: 'no-guidance',
      because: 'The simulated cable is unplugged.',
      feedState: 'open',
      aheadOfPace: null,
    });
    await run(30);
    link.replug();
    await run(20);
    expect(now()).toMatchObject({ feedState: 'open', feedId: 'feed-1', showing: 'gentle' });
    live.command({ kind: 'end-feed' });
    const events = keptEvents(storage.only);
    const lost = events.find(({ kind }) => kind === 'link-lost')!;
    const back = events.find(({ kind }) => kind === 'link-back')!;
    expect(events.filter(({ kind }) => kind.startsWith('link'))).toHaveLength(2);
    // The device's time does not advance while nothing is received; the next sample tells how long it was.
    expect(back.atSec).toBeCloseTo(lost.atSec, 1);
    expect(
      keptRows(storage.only).some(({ atSec }) => atSec > lost.atSec + 1 && atSec < lost.atSec + 29),
    ).toBe(false);
    expectWhole(storage.only, sleeve.calibration);
  });
});

describe('a feed ends', () => {
  it('when the button is held for two seconds; a short press does not end it', async () => {
    const { latch, run, storage, sleeve, now } = await scripted();
    await latch();
    await run(20);
    sleeve.buttonDown = true;
    await run(0.5);
    sleeve.buttonDown = false;
    await run(5);
    expect(storage.only.end).toBeNull();
    sleeve.buttonDown = true;
    await run(2.2);
    expect(storage.only.end?.endReason).toBe('button');
    expect(now()).toMatchObject({ feedState: 'ended', feedId: 'feed-1' });
  });

  it('by the button also when a whole second comes in one piece, as after a busy moment', async () => {
    const sleeve = createScriptedSleeve();
    const { run, storage } = await liveRun(sleeve, {
      calibration: sleeve.calibration,
      wrap: (link, clock) => ({
        ...link,
        bytes$: link.bytes$.pipe(bufferTime(1000, clock.scheduler), map(joined)),
      }),
    });
    await run(8);
    sleeve.mouth = 'sucking';
    await run(10.5);
    expect(storage.feeds).toHaveLength(1);
    sleeve.buttonDown = true;
    // The two seconds are over in the middle of a chunk.
    await run(4);
    expect(storage.only.end?.endReason).toBe('button');
  });

  it('but not by a button that was held before the latch', async () => {
    const { sleeve, run, latch, storage } = await scripted();
    sleeve.buttonDown = true;
    await run(5);
    await latch();
    await run(10);
    expect(storage.only.end).toBeNull();
  });

  it('when the page says so, and is not opened again by the same latch', async () => {
    const { latch, run, live, storage, now, sleeve, stand, sent } = await scripted();
    await latch();
    await run(20);
    live.command({ kind: 'end-feed' });
    expect(now()).toMatchObject({ feedState: 'ended', feedId: 'feed-1' });
    expect(now().feedElapsedSec).toBeCloseTo(20, 0);
    expect(storage.only.end?.endReason).toBe('page');
    // The teat is still in the mouth.
    await run(60);
    expect(storage.feeds).toHaveLength(1);
    await stand(10);
    await latch();
    const [first, second] = storage.feeds as [FakeFeed, FakeFeed];
    expect(second.summary.id).toBe('feed-2');
    // The two feeds share no byte.
    const all = Buffer.from(joined(sent));
    const secondFrom = all.indexOf(Buffer.from(keptBytes(second)));
    expect(secondFrom).toBeGreaterThanOrEqual(
      all.indexOf(Buffer.from(keptBytes(first))) + keptBytes(first).length,
    );
    expectWhole(first, sleeve.calibration);
  });

  it('after 45 minutes without the teat, not after 44', async () => {
    const { latch, run, stand, storage } = await scripted();
    await latch();
    await run(5);
    await stand(44 * 60);
    expect(storage.only.end).toBeNull();
    await stand(2 * 60);
    expect(storage.only.end).toMatchObject({ endReason: 'teat-away' });
    expect(storage.only.end!.refined).not.toBeNull();
  });

  it('after 45 minutes of silence: a sleeve that is away cannot tell how late it is', async () => {
    const { latch, run, storage, link, now, sleeve } = await scripted();
    await latch();
    await run(5);
    link.unplug();
    sleeve.samplesPerSec = 1;
    await run(44 * 60);
    expect(storage.only.end).toBeNull();
    await run(2 * 60);
    expect(storage.only.end).toMatchObject({ endReason: 'teat-away' });
    expect(now().showing).toBe('no-guidance');
  });

  it('when the link has given all it had', async () => {
    const { run, storage, now } = await poured({ speed: 30 });
    await run(4);
    expect(storage.only.end?.endReason).toBe('link-ended');
    expectWhole(storage.only, readFixture('poured').calibration);
    // The feed was stored whole; now the view shows that it has ended.
    expect(now()).toMatchObject({ showing: 'waiting', feedState: 'ended', because: null });
  });

  it('when the program is stopped, and then nothing more is said or kept', async () => {
    const { latch, run, live, storage, said, views } = await scripted();
    await latch();
    await run(5.25);
    live.stop();
    const feed = storage.only;
    expect(feed.end?.endReason).toBe('link-ended');
    expect(samplesOf(keptBytes(feed)).at(-1)!.atSec).toBeGreaterThan(14);
    const before = [
      said.light.length,
      said.sound.length,
      said.heartbeat.length,
      views.length,
      feed.parts.length,
    ];
    await run(10);
    expect([
      said.light.length,
      said.sound.length,
      said.heartbeat.length,
      views.length,
      feed.parts.length,
    ]).toEqual(before);
  });
});

describe('"not a feed"', () => {
  it('takes the open one back', async () => {
    const { latch, run, live, storage, now } = await scripted();
    await latch();
    await run(5.25);
    live.command({ kind: 'discard-feed' });
    expect(storage.only).toMatchObject({ discarded: true, end: null });
    expect(now()).toMatchObject({ feedState: 'discarded', feedId: 'feed-1' });
    // Its bytes are stored although it is discarded.
    expect(samplesOf(keptBytes(storage.only)).at(-1)!.atSec).toBeGreaterThan(14);
    await run(20);
    expect(storage.feeds).toHaveLength(1);
  });

  it('takes the one back that just ended, once', async () => {
    const { latch, run, live, storage, now } = await scripted();
    await latch();
    await run(5);
    live.command({ kind: 'end-feed' });
    live.command({ kind: 'discard-feed' });
    expect(storage.only.discarded).toBe(true);
    expect(now().feedState).toBe('discarded');
    live.command({ kind: 'discard-feed' });
    live.command({ kind: 'end-feed' });
    expect(now().feedState).toBe('discarded');
  });
});
