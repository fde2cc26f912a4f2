/** The live feed in virtual time, on a simulated link: what is kept, when, and what light, buzzer and page are told. */
import { bufferTime, filter, map } from 'rxjs';
import { describe, expect, it } from 'vitest';
import { PlainError } from '../../src/errors.ts';
import type { LiveView } from '../../src/feed/live-view.ts';
import { replay } from '../../src/feed/replay.ts';
import { createCapturedSleeve } from '../support/captured-sleeve.ts';
import { readFixture, samplesOf } from '../support/captures.ts';
import { type FakeFeed, keptBytes, keptCues, keptEvents, keptRows } from '../support/fake-keeper.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';
import { liveRun, RUN_STARTS_MS, shownFrom } from '../support/live-run.ts';
import { createScriptedSleeve } from '../support/scripted-sleeve.ts';
import { joined } from '../support/wire.ts';

/** A scripted sleeve on a live feed, weighed and ready. */
async function scripted() {
  const sleeve = createScriptedSleeve();
  const run = await liveRun(sleeve, { calibration: sleeve.calibration });
  const sent: Uint8Array[] = [];
  run.link.bytes$.subscribe((bytes) => sent.push(bytes));
  await run.run(8);
  /** Ten samples a second: enough to stand on a table. */
  const stand = async (seconds: number) => {
    sleeve.mouth = 'out';
    sleeve.samplesPerSec = 10;
    await run.run(seconds);
    sleeve.samplesPerSec = 80;
  };
  const latch = async () => {
    sleeve.mouth = 'sucking';
    await run.until((view) => view.teatInMouth);
  };
  return { ...run, sleeve, sent, stand, latch, now: () => run.view };
}

/** A feed that is known to bring cues: the first 90 s of the poured one. */
async function poured({ speed = 1 } = {}) {
  const { bytes, calibration } = readFixture('poured');
  const run = await liveRun(createCapturedSleeve(bytes), { calibration, speed });
  return { ...run, now: () => run.view };
}
const showing = (kind: LiveView['showing']) => (view: LiveView) => view.showing === kind;

/** All that was kept is what a replay of the kept bytes gives: nothing lost, nothing twice. */
function expectWhole(feed: FakeFeed, calibration: Parameters<typeof replay>[1]['calibration']): void {
  const { result } = replay([keptBytes(feed)], { calibration, portionMl: feed.summary.setup.portionMl });
  expect(keptRows(feed).map(({ atSec }) => Number(atSec.toFixed(4)))).toEqual(result.live.atSec);
  expect(keptRows(feed).map(({ intakeMl }) => Number(intakeMl.toFixed(3)))).toEqual(result.live.intakeMl);
  expect(keptCues(feed)).toEqual(result.cues);
  expect(keptEvents(feed).filter(({ kind }) => !/^link|^guidance/.test(kind))).toEqual(result.events);
}

describe('a feed opens', () => {
  it('at the first latch, with the bytes from 60 s before it', async () => {
    const { run, latch, keeper, sent, clock, sleeve } = await scripted();
    await run(92);
    expect(keeper.feeds).toHaveLength(0);
    const latchedFrom = clock.nowMs;
    await latch();
    const { summary, parts, partsAtMs, calibration } = keeper.only;
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
    const { latch, keeper, sent } = await scripted();
    await latch();
    expect(
      Buffer.compare(
        joined(keeper.only.parts[0]!.bytes),
        joined(sent).subarray(0, keptBytes(keeper.only).length),
      ),
    ).toBe(0);
  });

  it('only once for one latch, however long it lasts', async () => {
    const { latch, run, keeper, now } = await scripted();
    await latch();
    await run(60);
    expect(keeper.feeds).toHaveLength(1);
    expect(now()).toMatchObject({ feedState: 'open', feedId: 'feed-1', teatInMouth: true });
    expect(now().feedElapsedSec).toBeGreaterThan(59);
    expect(now().feedElapsedSec).toBeLessThan(62);
  });

  it('not at all while nobody drinks', async () => {
    const { stand, keeper, now, run, sleeve } = await scripted();
    await stand(1200);
    sleeve.buttonDown = true;
    await run(3);
    expect(keeper.feeds).toHaveLength(0);
    expect(now()).toMatchObject({
      showing: 'waiting',
      feedState: 'none',
      feedId: null,
      feedElapsedSec: null,
    });
  });

  it('with what was set up before, and keeps the setup', async () => {
    const { live, latch, keeper } = await scripted();
    const setup = { ...EMPTY_SETUP, babyName: 'Wren', portionMl: 60 };
    live.command({ kind: 'setup', setup });
    await latch();
    expect(keeper.setup).toEqual(setup);
    expect(keeper.only.summary.setup).toEqual(setup);
  });
});

describe('what is kept', () => {
  it('goes to the keeper once a second, whole: no row, cue, event or byte lost or doubled', async () => {
    const { run, keeper, live, link } = await poured();
    const sent: Uint8Array[] = [];
    link.bytes$.subscribe((bytes) => sent.push(bytes));
    await run(88);
    live.command({ kind: 'end-feed' });
    const feed = keeper.only;
    const { calibration } = readFixture('poured');
    // The feed began within a minute: everything was kept.
    expect(Buffer.compare(keptBytes(feed), joined(sent))).toBe(0);
    expectWhole(feed, calibration);
    expect(keptCues(feed).length).toBeGreaterThanOrEqual(2);
    const gaps = feed.partsAtMs.slice(1).map((atMs, i) => atMs - feed.partsAtMs[i]!);
    expect(Math.max(...gaps)).toBeLessThanOrEqual(1000);
    // Beside the first and the last one, not more often either.
    expect(gaps.filter((gap) => gap < 1000).length).toBeLessThanOrEqual(2);
    const last = feed.parts.at(-1)!;
    expect(last.intakeMl).toBeGreaterThan(25);
    // From the first latch to the last moment in the mouth.
    expect(last.durationSec).toBeCloseTo(88 - 10.4, 0);
    // Whenever the power fails, all but the last second is with the keeper.
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
    const { run, keeper, live } = await poured();
    await run(80);
    live.command({ kind: 'end-feed' });
    const { end, parts } = keeper.only;
    expect(end).toMatchObject({ endReason: 'page', endedAtMs: RUN_STARTS_MS + 80_000 });
    expect(end!.refined!.totals.intakeMl).toBeGreaterThan(25);
    expect(Math.abs(end!.refined!.totals.intakeMl - parts.at(-1)!.intakeMl)).toBeLessThan(3);
  });
});

describe('a feed goes on', () => {
  it('through set-downs of many minutes', async () => {
    const { latch, run, stand, keeper, now } = await scripted();
    await latch();
    await run(20);
    await stand(20 * 60);
    await latch();
    await run(5);
    await stand(20 * 60);
    await latch();
    await run(1);
    expect(keeper.feeds).toHaveLength(1);
    expect(now()).toMatchObject({ feedState: 'open', feedId: 'feed-1' });
    const kinds = keptEvents(keeper.only).map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === 'teat-in')).toHaveLength(3);
  });

  it('through a lost link, which is noted', async () => {
    const { latch, run, keeper, link, now, sleeve, live } = await scripted();
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
    const events = keptEvents(keeper.only);
    const lost = events.find(({ kind }) => kind === 'link-lost')!;
    const back = events.find(({ kind }) => kind === 'link-back')!;
    expect(events.filter(({ kind }) => kind.startsWith('link'))).toHaveLength(2);
    // In device time nothing passes while nothing is heard; the next sample tells how long it was.
    expect(back.atSec).toBeCloseTo(lost.atSec, 1);
    expect(keptRows(keeper.only).some(({ atSec }) => atSec > lost.atSec + 1 && atSec < lost.atSec + 29)).toBe(
      false,
    );
    expectWhole(keeper.only, sleeve.calibration);
  });
});

describe('a feed ends', () => {
  it('when the button is held for two seconds; a short press does not end it', async () => {
    const { latch, run, keeper, sleeve, now } = await scripted();
    await latch();
    await run(20);
    sleeve.buttonDown = true;
    await run(0.5);
    sleeve.buttonDown = false;
    await run(5);
    expect(keeper.only.end).toBeNull();
    sleeve.buttonDown = true;
    await run(2.2);
    expect(keeper.only.end?.endReason).toBe('button');
    expect(now()).toMatchObject({ feedState: 'ended', feedId: 'feed-1' });
  });

  it('by the button also when a whole second comes in one piece, as after a busy moment', async () => {
    const sleeve = createScriptedSleeve();
    const { run, keeper } = await liveRun(sleeve, {
      calibration: sleeve.calibration,
      wrap: (link, clock) => ({
        ...link,
        bytes$: link.bytes$.pipe(bufferTime(1000, clock.scheduler), map(joined)),
      }),
    });
    await run(8);
    sleeve.mouth = 'sucking';
    await run(10.5);
    expect(keeper.feeds).toHaveLength(1);
    sleeve.buttonDown = true;
    // The moment at which two seconds are over lies in the middle of a piece.
    await run(4);
    expect(keeper.only.end?.endReason).toBe('button');
  });

  it('but not by a button that was held before the latch', async () => {
    const { sleeve, run, latch, keeper } = await scripted();
    sleeve.buttonDown = true;
    await run(5);
    await latch();
    await run(10);
    expect(keeper.only.end).toBeNull();
  });

  it('when the page says so, and is not opened again by the same latch', async () => {
    const { latch, run, live, keeper, now, sleeve, stand, sent } = await scripted();
    await latch();
    await run(20);
    live.command({ kind: 'end-feed' });
    expect(now()).toMatchObject({ feedState: 'ended', feedId: 'feed-1' });
    expect(now().feedElapsedSec).toBeCloseTo(20, 0);
    expect(keeper.only.end?.endReason).toBe('page');
    // The baby has not let go yet.
    await run(60);
    expect(keeper.feeds).toHaveLength(1);
    await stand(10);
    await latch();
    const [first, second] = keeper.feeds as [FakeFeed, FakeFeed];
    expect(second.summary.id).toBe('feed-2');
    // No byte belongs to both.
    const all = Buffer.from(joined(sent));
    const secondFrom = all.indexOf(Buffer.from(keptBytes(second)));
    expect(secondFrom).toBeGreaterThanOrEqual(
      all.indexOf(Buffer.from(keptBytes(first))) + keptBytes(first).length,
    );
    expectWhole(first, sleeve.calibration);
  });

  it('after 45 minutes without the teat, not after 44', async () => {
    const { latch, run, stand, keeper } = await scripted();
    await latch();
    await run(5);
    await stand(44 * 60);
    expect(keeper.only.end).toBeNull();
    await stand(2 * 60);
    expect(keeper.only.end).toMatchObject({ endReason: 'teat-away' });
    expect(keeper.only.end!.refined).not.toBeNull();
  });

  it('after 45 minutes of silence: a sleeve that is away cannot tell how late it is', async () => {
    const { latch, run, keeper, link, now, sleeve } = await scripted();
    await latch();
    await run(5);
    link.unplug();
    sleeve.samplesPerSec = 1;
    await run(44 * 60);
    expect(keeper.only.end).toBeNull();
    await run(2 * 60);
    expect(keeper.only.end).toMatchObject({ endReason: 'teat-away' });
    expect(now().showing).toBe('no-guidance');
  });

  it('when the link has given all it had', async () => {
    const { run, keeper, now } = await poured({ speed: 30 });
    await run(4);
    expect(keeper.only.end?.endReason).toBe('link-ended');
    expectWhole(keeper.only, readFixture('poured').calibration);
    expect(now()).toMatchObject({ showing: 'no-guidance', because: 'The sleeve has sent all it had.' });
  });

  it('when the program is stopped, and then nothing more is said or kept', async () => {
    const { latch, run, live, keeper, said, views } = await scripted();
    await latch();
    await run(5.25);
    live.stop();
    const feed = keeper.only;
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
    const { latch, run, live, keeper, now } = await scripted();
    await latch();
    await run(5.25);
    live.command({ kind: 'discard-feed' });
    expect(keeper.only).toMatchObject({ discarded: true, end: null });
    expect(now()).toMatchObject({ feedState: 'discarded', feedId: 'feed-1' });
    // All of it is kept all the same.
    expect(samplesOf(keptBytes(keeper.only)).at(-1)!.atSec).toBeGreaterThan(14);
    await run(20);
    expect(keeper.feeds).toHaveLength(1);
  });

  it('takes the one back that just ended, once', async () => {
    const { latch, run, live, keeper, now } = await scripted();
    await latch();
    await run(5);
    live.command({ kind: 'end-feed' });
    live.command({ kind: 'discard-feed' });
    expect(keeper.only.discarded).toBe(true);
    expect(now().feedState).toBe('discarded');
    live.command({ kind: 'discard-feed' });
    live.command({ kind: 'end-feed' });
    expect(now().feedState).toBe('discarded');
  });
});

describe('a full disk', () => {
  it('is said, while cues go on; nothing is lost once there is room again', async () => {
    const { run, keeper, now, until, live } = await poured();
    await run(20);
    keeper.full = true;
    await run(2);
    expect(now()).toMatchObject({
      notice: 'The disk is full. Free some space.',
      showing: 'gentle',
      feedState: 'open',
    });
    await until(showing('tilt-down'));
    expect(keeper.refused).toBeGreaterThan(10);
    keeper.full = false;
    await run(2);
    expect(now().notice).toBeNull();
    await run(30);
    live.command({ kind: 'end-feed' });
    expectWhole(keeper.only, readFixture('poured').calibration);
  });

  it('at the latch loses nothing either', async () => {
    const { run, keeper, now, live } = await poured();
    keeper.full = true;
    await run(30);
    expect(keeper.feeds).toHaveLength(0);
    expect(now()).toMatchObject({ feedState: 'open', notice: expect.stringContaining('full') });
    keeper.full = false;
    await run(30);
    live.command({ kind: 'end-feed' });
    expect(now().notice).toBeNull();
    expectWhole(keeper.only, readFixture('poured').calibration);
    expect(keptRows(keeper.only).at(-1)!.atSec).toBeCloseTo(60, 0);
  });

  it('when the feed ends: the rest and the end are kept as soon as there is room', async () => {
    const { run, keeper, now, live } = await poured();
    await run(60);
    keeper.full = true;
    await run(10);
    live.command({ kind: 'end-feed' });
    expect(now()).toMatchObject({ feedState: 'ended', notice: expect.stringContaining('full') });
    expect(keeper.only.end).toBeNull();
    await run(10);
    keeper.full = false;
    await run(1);
    expect(now().notice).toBeNull();
    expect(keeper.only.end).toMatchObject({ endReason: 'page', endedAtMs: RUN_STARTS_MS + 70_000 });
    expect(keptRows(keeper.only).at(-1)!.atSec).toBeCloseTo(70, 0);
    expectWhole(keeper.only, readFixture('poured').calibration);
  });

  it('when a feed is taken back: that is done as soon as there is room', async () => {
    const { latch, run, keeper, live, now } = await scripted();
    await latch();
    await run(5);
    live.command({ kind: 'end-feed' });
    keeper.full = true;
    live.command({ kind: 'discard-feed' });
    expect(now()).toMatchObject({ feedState: 'discarded', notice: expect.stringContaining('full') });
    keeper.full = false;
    await run(1);
    expect(keeper.only.discarded).toBe(true);
    expect(now().notice).toBeNull();
  });

  it('refuses a new setup to whoever asked for it, and the live feed goes on', async () => {
    const { latch, run, keeper, live, now } = await scripted();
    await latch();
    keeper.full = true;
    expect(() => live.command({ kind: 'setup', setup: { ...EMPTY_SETUP, caregiver: 'Juno' } })).toThrow(
      PlainError,
    );
    await run(5);
    expect(now()).toMatchObject({ feedState: 'open', teatInMouth: true });
  });
});

describe('light, buzzer and heartbeat', () => {
  it('say a cue in the moment it comes', async () => {
    const { until, said, clock, views } = await poured();
    await until(showing('tilt-down'));
    const began = views.find(({ view }) => view.showing === 'tilt-down')!;
    expect(clock.nowMs - began.atMs).toBeLessThanOrEqual(50);
    expect(said.sound).toEqual([{ atMs: began.atMs, notes: expect.objectContaining({ repeats: 2 }) }]);
    expect(said.light.at(-1)).toEqual({ atMs: began.atMs, light: { red: 255, green: 96, blue: 16 } });
    expect(began.view.because).toMatch(/mL\/min/);
    expect(began.view.aheadOfPace).toBe(1);
  });

  it('muted, the buzzer is silent at once and stays so; the light goes on', async () => {
    const { run, until, said, live, now } = await poured();
    live.command({ kind: 'mute', on: true });
    expect(said.sound).toEqual([{ atMs: 0, notes: null }]);
    await until(showing('tilt-down'));
    await run(30);
    expect(said.sound).toHaveLength(1);
    expect(now().muted).toBe(true);
    expect(said.light.some(({ light }) => light.red === 255)).toBe(true);
  });

  it('dimmed, the light is a quarter as bright at once', async () => {
    const { until, said, live, now } = await poured();
    await until(showing('tilt-down'));
    live.command({ kind: 'dim', on: true });
    expect(now().dimmed).toBe(true);
    expect(said.light.at(-1)!.light).toEqual({ red: 64, green: 24, blue: 4 });
    live.command({ kind: 'dim', on: false });
    expect(said.light.at(-1)!.light).toEqual({ red: 255, green: 96, blue: 16 });
  });

  it('with guidance paused are dark and silent, and the sleeve is told; the feed notes it', async () => {
    const { run, until, said, live, now, keeper } = await poured();
    await until(showing('tilt-down'));
    live.command({ kind: 'pause-guidance', on: true });
    expect(now()).toMatchObject({ showing: 'guidance-off', guidancePaused: true });
    expect(said.light.at(-1)!.light).toEqual({ red: 0, green: 0, blue: 0 });
    expect(said.sound.at(-1)!.notes).toBeNull();
    const fromMs = said.light.at(-1)!.atMs;
    await run(10);
    expect(said.light.at(-1)!.atMs).toBe(fromMs);
    expect(said.heartbeat.filter(({ atMs }) => atMs > fromMs).every(({ on }) => !on)).toBe(true);
    live.command({ kind: 'pause-guidance', on: false });
    await run(2);
    expect(said.heartbeat.at(-1)!.on).toBe(true);
    expect(now().showing).not.toBe('guidance-off');
    const noted = keptEvents(keeper.only).filter(({ kind }) => kind.startsWith('guidance'));
    expect(noted.map(({ kind }) => kind)).toEqual(['guidance-paused', 'guidance-on']);
    expect(noted[1]!.atSec - noted[0]!.atSec).toBeCloseTo(10, 0);
  });

  it('with guidance paused before the feed, the feed knows it too', async () => {
    const { run, live, keeper } = await poured();
    live.command({ kind: 'pause-guidance', on: true });
    await run(20);
    expect(keptEvents(keeper.only).map(({ kind }) => kind)).toContain('guidance-paused');
  });

  it('a heartbeat goes out at least once a second, whatever happens, and says whether anybody guides', async () => {
    const { run, latch, link, said, sleeve, clock, live } = await scripted();
    await latch();
    await run(3);
    link.unplug();
    const lostMs = clock.nowMs;
    await run(5);
    link.replug();
    sleeve.sending = false;
    await run(3);
    live.command({ kind: 'end-feed' });
    await run(3);
    const times = [0, ...said.heartbeat.map(({ atMs }) => atMs), clock.nowMs];
    for (let i = 1; i < times.length; i++) expect(times[i]! - times[i - 1]!).toBeLessThanOrEqual(1000);
    expect(said.heartbeat.find(({ atMs }) => atMs < lostMs && atMs > 1000)!.on).toBe(true);
    expect(said.heartbeat.filter(({ atMs }) => atMs > lostMs).some(({ on }) => on)).toBe(false);
  });

  it('without samples no last good number or advice is left within a second, on the page or in the light', async () => {
    const { bytes, calibration } = readFixture('poured');
    let silent = false;
    const live = await liveRun(createCapturedSleeve(bytes), {
      calibration,
      wrap: (link) => ({ ...link, bytes$: link.bytes$.pipe(filter(() => !silent)) }),
    });
    await live.until(showing('tilt-down'));
    silent = true;
    const fromMs = live.clock.nowMs;
    await live.run(1);
    expect(live.view).toMatchObject({
      showing: 'no-guidance',
      because: expect.stringContaining('No measurements'),
      aheadOfPace: null,
      teatInMouth: false,
      numbers: { milkMl: null, flowMlPerMin: null, intakeMl: null, tiltDeg: null },
    });
    expect(live.said.light.at(-1)!.light.red).toBeLessThan(30);
    await live.run(1);
    expect(live.said.heartbeat.at(-1)!.on).toBe(false);
    await live.run(10);
    silent = false;
    await live.run(20);
    const shown = shownFrom(live, fromMs + 1).map(([, what]) => what);
    expect(shown[0]).toBe('tilt-down');
    // One silence, said once.
    expect(shown.filter((what) => what === 'no-guidance')).toHaveLength(1);
  });
});

describe('the page', () => {
  it('gets a picture at once, at least two a second, and no flood', async () => {
    const { run, views, link, clock } = await poured();
    expect(views[0]!.atMs).toBe(0);
    await run(45);
    link.unplug();
    await run(10);
    const times = views.map(({ atMs }) => atMs);
    for (let i = 1; i < times.length; i++) expect(times[i]! - times[i - 1]!).toBeLessThanOrEqual(500);
    const changes = shownFrom({ views }).length;
    expect(views.length).toBeLessThanOrEqual((clock.nowMs / 1000) * 5 + changes + 1);
  });

  it('is never told an amount left or a share of the portion', async () => {
    const { live, run, now } = await poured();
    live.command({ kind: 'setup', setup: { ...EMPTY_SETUP, portionMl: 60 } });
    await run(60);
    const { numbers, setup, ...shown } = now();
    expect(numbers.intakeMl).toBeGreaterThan(10);
    expect(setup.portionMl).toBe(60);
    expect(Object.keys(shown).filter((key) => /left|portion|share|remain/i.test(key))).toEqual([]);
  });

  it('can say "burped": the volume counts anew', async () => {
    const first = await poured();
    await first.until(() => first.keeper.feeds.flatMap(keptCues).some(({ kind }) => kind === 'burp'));
    const second = await poured();
    await second.run(first.clock.nowMs / 1000 - 5);
    second.live.command({ kind: 'burped' });
    await second.run(10);
    expect(keptCues(second.keeper.only).map(({ kind }) => kind)).not.toContain('burp');
  });

  it('is told what is the matter when the estimate may not be acted on', async () => {
    const { latch, run, sleeve, now, views, clock } = await scripted();
    await latch();
    await run(5);
    sleeve.faults = 0x08;
    const fromMs = clock.nowMs;
    await run(5);
    expect(now()).toMatchObject({
      showing: 'cannot-tell',
      qualityReason: 'accelerometer',
      because: expect.stringContaining('tilt'),
      aheadOfPace: null,
      numbers: { milkMl: null, flowMlPerMin: null, intakeMl: null, tiltDeg: null },
    });
    sleeve.faults = 0;
    await run(10);
    expect(shownFrom({ views }, fromMs).map(([, what]) => what)).toEqual(['gentle', 'cannot-tell', 'gentle']);
  });
});
