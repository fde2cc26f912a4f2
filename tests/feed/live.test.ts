/** What light, buzzer, sleeve and page are told by the live feed, in virtual time. */
import { filter } from 'rxjs';
import { describe, expect, it } from 'vitest';
import { createCapturedSleeve } from '../support/captured-sleeve.ts';
import { readFixture } from '../support/captures.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';
import { poured, scripted, showing } from '../support/live-feeds.ts';
import { liveRun, shownFrom } from '../support/live-run.ts';
import { keptCues, keptEvents } from '../support/memory-storage.ts';

describe('light, buzzer and heartbeat', () => {
  it('say a cue in the moment it comes', async () => {
    const { until, said, clock, views } = await poured();
    await until(showing('tilt-down'));
    const began = views.find(({ view }) => view.showing === 'tilt-down')!;
    expect(clock.nowMs - began.atMs).toBeLessThanOrEqual(50);
    expect(said.sound).toEqual([{ atMs: began.atMs, notes: expect.objectContaining({ repeats: 2 }) }]);
    expect(said.light.at(-1)).toEqual({ atMs: began.atMs, light: { red: 255, green: 96, blue: 16 } });
    expect(began.view.because).toMatchObject({
      // In the first minute the estimate may still be in doubt, and the cue says so.
      rule: expect.stringMatching(/^tilt-down(-in-doubt)?$/),
      numbers: { flowMlPerMin: expect.any(Number) },
    });
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

  it('with cues off are dark and silent, and the sleeve is told; the feed notes it', async () => {
    const { run, until, said, live, now, storage } = await poured();
    await until(showing('tilt-down'));
    live.command({ kind: 'guidance-off', on: true });
    expect(now()).toMatchObject({ showing: 'guidance-off', guidanceOff: true });
    expect(said.light.at(-1)!.light).toEqual({ red: 0, green: 0, blue: 0 });
    expect(said.sound.at(-1)!.notes).toBeNull();
    const fromMs = said.light.at(-1)!.atMs;
    await run(10);
    expect(said.light.at(-1)!.atMs).toBe(fromMs);
    expect(said.heartbeat.filter(({ atMs }) => atMs > fromMs).every(({ on }) => !on)).toBe(true);
    live.command({ kind: 'guidance-off', on: false });
    await run(2);
    expect(said.heartbeat.at(-1)!.on).toBe(true);
    expect(now().showing).not.toBe('guidance-off');
    const noted = keptEvents(storage.only).filter(({ kind }) => kind.startsWith('guidance'));
    expect(noted.map(({ kind }) => kind)).toEqual(['guidance-paused', 'guidance-on']);
    expect(noted[1]!.atSec - noted[0]!.atSec).toBeCloseTo(10, 0);
  });

  it('come back by themselves: ten minutes after somebody turned them off, noted in the feed', async () => {
    const { run, live, now, latch, stand, storage } = await scripted();
    await latch();
    live.command({ kind: 'guidance-off', on: true });
    await stand(10 * 60 - 5);
    expect(now()).toMatchObject({ showing: 'guidance-off', guidanceOff: true, feedState: 'open' });
    await run(6);
    expect(now()).toMatchObject({ guidanceOff: false, feedState: 'open' });
    expect(now().showing).not.toBe('guidance-off');
    const noted = keptEvents(storage.only).filter(({ kind }) => kind.startsWith('guidance'));
    expect(noted.map(({ kind }) => kind)).toEqual(['guidance-paused', 'guidance-on']);
  });

  it.each(['end-feed', 'discard-feed'] as const)('come back with the end of the feed (%s)', async (kind) => {
    const { run, live, now, latch, said } = await scripted();
    await latch();
    await run(5);
    live.command({ kind: 'guidance-off', on: true });
    live.command({ kind });
    expect(now().guidanceOff).toBe(false);
    await run(2);
    expect(now().showing).toBe('waiting');
    expect(said.heartbeat.at(-1)!.on).toBe(true);
  });

  it('start dimmed where somebody dimmed them before, and tell when that changes', async () => {
    const { bytes, calibration } = readFixture('poured');
    const kept: boolean[] = [];
    const { live, views } = await liveRun(createCapturedSleeve(bytes), {
      calibration,
      dimmed: true,
      keepDimmed: (dimmed) => kept.push(dimmed),
    });
    expect(views[0]!.view.dimmed).toBe(true);
    live.command({ kind: 'dim', on: false });
    live.command({ kind: 'dim', on: true });
    expect(kept).toEqual([false, true]);
  });

  it('with cues off before the feed, the feed knows it too', async () => {
    const { run, live, storage } = await poured();
    live.command({ kind: 'guidance-off', on: true });
    await run(20);
    expect(keptEvents(storage.only).map(({ kind }) => kind)).toContain('guidance-paused');
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
    // One silence gives one notice.
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
    await first.until(() => first.storage.feeds.flatMap(keptCues).some(({ kind }) => kind === 'burp'));
    const second = await poured();
    await second.run(first.clock.nowMs / 1000 - 5);
    second.live.command({ kind: 'burped' });
    await second.run(10);
    expect(keptCues(second.storage.only).map(({ kind }) => kind)).not.toContain('burp');
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
