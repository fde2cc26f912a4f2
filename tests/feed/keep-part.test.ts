/** What the storage gets, and when; and what happens while its disk is full. */
import { describe, expect, it } from 'vitest';
import { PlainError } from '../../src/base/errors.ts';
import { readFixture } from '../support/captures.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';
import { expectWhole, poured, scripted, showing } from '../support/live-feeds.ts';
import { RUN_STARTS_MS } from '../support/live-run.ts';
import { keptBytes, keptCues, keptRows } from '../support/memory-storage.ts';
import { joined } from '../support/wire.ts';

describe('what is kept', () => {
  it('goes to the storage once a second, whole: no row, cue, event or byte lost or doubled', async () => {
    const { run, storage, live, link } = await poured();
    const sent: Uint8Array[] = [];
    link.bytes$.subscribe((bytes) => sent.push(bytes));
    await run(88);
    live.command({ kind: 'end-feed' });
    const feed = storage.only;
    const { calibration } = readFixture('poured');
    // The feed began within the first minute, so all bytes are stored.
    expect(Buffer.compare(keptBytes(feed), joined(sent))).toBe(0);
    expectWhole(feed, calibration);
    expect(keptCues(feed).length).toBeGreaterThanOrEqual(2);
    const gaps = feed.partsAtMs.slice(1).map((atMs, i) => atMs - feed.partsAtMs[i]!);
    expect(Math.max(...gaps)).toBeLessThanOrEqual(1000);
    // Only the first and the last part may come sooner than a second after the one before.
    expect(gaps.filter((gap) => gap < 1000).length).toBeLessThanOrEqual(2);
    const last = feed.parts.at(-1)!;
    expect(last.intakeMl).toBeGreaterThan(25);
    // From the first latch to the last moment in the mouth.
    expect(last.durationSec).toBeCloseTo(88 - 10.4, 0);
    // Whenever the power fails, all but the last second is with the storage.
    let bytes = 0;
    feed.parts.forEach((part, i) => {
      bytes += joined(part.bytes).length;
      const inSec = feed.partsAtMs[i]! / 1000;
      expect(bytes / 31 / 80).toBeGreaterThan(inSec - 0.1);
      expect(
        feed.parts
          .slice(0, i + 1)
          .flatMap(({ rows }) => rows)
          .at(-1)!.atSec,
      ).toBeGreaterThan(inSec - 0.5);
    });
  });

  it('has the refined totals and the reason at the end', async () => {
    const { run, storage, live } = await poured();
    await run(80);
    live.command({ kind: 'end-feed' });
    const { end, parts } = storage.only;
    expect(end).toMatchObject({ endReason: 'page', endedAtMs: RUN_STARTS_MS + 80_000 });
    expect(end!.refined!.totals.intakeMl).toBeGreaterThan(25);
    expect(Math.abs(end!.refined!.totals.intakeMl - parts.at(-1)!.intakeMl)).toBeLessThan(3);
  });
});

describe('a full disk', () => {
  it('is said, while cues go on; nothing is lost once there is room again', async () => {
    const { run, storage, now, until, live } = await poured();
    await run(20);
    storage.full = true;
    await run(2);
    expect(now()).toMatchObject({
      notice: 'The disk is full. Free some space.',
      showing: 'held-steeply',
      feedState: 'open',
    });
    await until(showing('tilt-down'));
    expect(storage.refused).toBeGreaterThan(10);
    storage.full = false;
    await run(2);
    expect(now().notice).toBeNull();
    await run(30);
    live.command({ kind: 'end-feed' });
    expectWhole(storage.only, readFixture('poured').calibration);
  });

  it('at the latch loses nothing either', async () => {
    const { run, storage, now, live } = await poured();
    storage.full = true;
    await run(30);
    expect(storage.feeds).toHaveLength(0);
    expect(now()).toMatchObject({ feedState: 'open', notice: expect.stringContaining('full') });
    storage.full = false;
    await run(30);
    live.command({ kind: 'end-feed' });
    expect(now().notice).toBeNull();
    expectWhole(storage.only, readFixture('poured').calibration);
    expect(keptRows(storage.only).at(-1)!.atSec).toBeCloseTo(60, 0);
  });

  it('when the feed ends: the rest and the end are kept as soon as there is room', async () => {
    const { run, storage, now, live } = await poured();
    await run(60);
    storage.full = true;
    await run(10);
    live.command({ kind: 'end-feed' });
    expect(now()).toMatchObject({ feedState: 'ended', notice: expect.stringContaining('full') });
    expect(storage.only.end).toBeNull();
    await run(10);
    storage.full = false;
    await run(1);
    expect(now().notice).toBeNull();
    expect(storage.only.end).toMatchObject({ endReason: 'page', endedAtMs: RUN_STARTS_MS + 70_000 });
    expect(keptRows(storage.only).at(-1)!.atSec).toBeCloseTo(70, 0);
    expectWhole(storage.only, readFixture('poured').calibration);
  });

  it('when a feed is taken back: that is done as soon as there is room', async () => {
    const { latch, run, storage, live, now } = await scripted();
    await latch();
    await run(5);
    live.command({ kind: 'end-feed' });
    storage.full = true;
    live.command({ kind: 'discard-feed' });
    expect(now()).toMatchObject({ feedState: 'discarded', notice: expect.stringContaining('full') });
    storage.full = false;
    await run(1);
    expect(storage.only.discarded).toBe(true);
    expect(now().notice).toBeNull();
  });

  it('refuses a new setup to whoever asked for it, and the live feed goes on', async () => {
    const { latch, run, storage, live, now } = await scripted();
    await latch();
    storage.full = true;
    expect(() => live.command({ kind: 'setup', setup: { ...EMPTY_SETUP, caregiver: 'Juno' } })).toThrow(
      PlainError,
    );
    await run(5);
    expect(now()).toMatchObject({ feedState: 'open', teatInMouth: true });
  });
});
