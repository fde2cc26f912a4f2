/** A baby's feed from the answers to the record: what it ran with, what was said meanwhile, and its replay as it ran. */
import { describe, expect, it } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { SAMPLE_FLAGS } from '../../firmware-bridge/wire/index.ts';
import { PlainError } from '../../src/base/errors.ts';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import { earlierSucks } from '../../src/feed/recording/earlier-sucks.ts';
import { TEAT_AWAY_SEC } from '../../src/feed/recording/ending.ts';
import { guidedSetup } from '../../src/feed/recording/guided.ts';
import { asItRan, replay } from '../../src/feed/replay.ts';
import { paceParams } from '../../src/pacing/profile/profile.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { SimulatedSleeve } from '../../src/simulation/sleeve-model.ts';
import { openStore } from '../../src/store/open-store.ts';
import { babyEntry, NO_TO_ALL } from '../support/babies.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';
import { scripted } from '../support/live-feeds.ts';
import { liveRun, RUN_STARTS_MS } from '../support/live-run.ts';
import { keptEvents } from '../support/memory-storage.ts';
import { createScriptedSleeve } from '../support/scripted-sleeve.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

function storeWith(...babies: Parameters<typeof babyEntry>[0][]) {
  const store = openStore(temporaryFolder(), { recording: true, nowMs: () => RUN_STARTS_MS + 3600_000 });
  const kept = babies.map((baby) => store.addBaby(babyEntry(baby)));
  const guide: NonNullable<Parameters<typeof liveRun>[1]['guide']> = (setup) =>
    guidedSetup(setup, store.listBabies(), () => [], RUN_STARTS_MS, true);
  return { store, kept, guide };
}
const setupOf = ({ id, name, birthDate }: { id: string; name: string; birthDate: string | null }) => ({
  ...EMPTY_SETUP,
  babyId: id,
  babyName: name,
  babyBirthDate: birthDate,
});

describe('a feed of a kept baby', () => {
  it('keeps what it ran with, and "burped" from the page; its capture gives the very cues again', async () => {
    const sleeve = new SimulatedSleeve({ feed: { scenario: 'hurried-start', seed: 3 } });
    const calibration = parseCalibration(sleeve.feed.calibration, 'simulated');
    const { store, kept, guide } = storeWith({ usualFeedMl: 110, pace: 'strict' });
    const { live, run, until } = await liveRun(sleeve, {
      calibration,
      storage: () => store,
      speed: 4,
      guide,
    });
    live.command({ kind: 'setup', setup: setupOf(kept[0]!) });
    await until((view) => view.feedState === 'open');
    await run(9.33);
    live.command({ kind: 'burped' });
    await run(13.7);
    live.command({ kind: 'burped' });
    await run(15);
    live.command({ kind: 'end-feed' });

    const feed = store.get('feed-1')!;
    const { bytes } = readCapture(store.capturePath('feed-1')!);
    const { ran } = feed;
    expect(feed.setup.babyId).toBe(kept[0]!.id);
    expect(ran).toMatchObject({ profile: { name: 'scaled' }, guidance: { cover: true, usualFeedMl: 110 } });
    expect(feed.events.filter(({ kind }) => kind === 'burped')).toHaveLength(2);
    expect(feed.cues.length).toBeGreaterThan(2);
    const again = replay([bytes], asItRan(feed, calibration)).result.cues;
    expect(again).toEqual(feed.cues);
    // Without the button presses, or with the shipped profile, the replay gives other cues.
    expect(replay([bytes], { ...asItRan(feed, calibration), said: [] }).result.cues).not.toEqual(feed.cues);
    expect(replay([bytes], { calibration, portionMl: null }).result.cues).not.toEqual(feed.cues);
    store.close();
  });

  it('keeps what a suck gave before, and its replay starts from that too', async () => {
    const sleeve = new SimulatedSleeve({ feed: { scenario: 'hurried-start', seed: 4 } });
    const calibration = parseCalibration(sleeve.feed.calibration, 'simulated');
    const { store, kept } = storeWith({});
    const { live, run, until } = await liveRun(sleeve, {
      calibration,
      storage: () => store,
      speed: 4,
      guide: (setup) =>
        guidedSetup(
          setup,
          store.listBabies(),
          () => [],
          RUN_STARTS_MS,
          true,
          () => [0.5, 0.4],
        ),
    });
    live.command({ kind: 'setup', setup: setupOf(kept[0]!) });
    await until((view) => view.feedState === 'open');
    await run(12);
    live.command({ kind: 'end-feed' });

    const feed = store.get('feed-1')!;
    expect(feed.ran!.earlierSucks).toEqual(earlierSucks([0.5, 0.4]));
    const { bytes } = readCapture(store.capturePath('feed-1')!);
    const rowsOf = (options: ReturnType<typeof asItRan>) => replay([bytes], options).result.live.flowMlPerMin;
    const rounded = feed.rows.map(({ flowMlPerMin }) =>
      flowMlPerMin === null ? null : Number(flowMlPerMin.toFixed(3)),
    );
    expect(rowsOf(asItRan(feed, calibration))).toEqual(rounded);
    const { earlierSucks: _earlier, ...without } = asItRan(feed, calibration);
    expect(rowsOf(without)).not.toEqual(rounded);
    store.close();
  });

  it('whose "slower" cues are off shows none, and the page is told', async () => {
    const sleeve = new SimulatedSleeve({ feed: { scenario: 'hurried-start', seed: 1 } });
    const calibration = parseCalibration(sleeve.feed.calibration, 'simulated');
    const { store, kept, guide } = storeWith({ answers: { ...NO_TO_ALL, cleft: true } });
    const { live, run, views } = await liveRun(sleeve, {
      calibration,
      storage: () => store,
      speed: 4,
      guide,
    });
    live.command({ kind: 'setup', setup: setupOf(kept[0]!) });
    await run(22);
    live.command({ kind: 'end-feed' });
    expect(views.every(({ view }) => view.showing !== 'tilt-down' && view.showing !== 'keep-low')).toBe(true);
    expect(views.at(-2)!.view.notices).toEqual(['cues-off']);
    expect(store.get('feed-1')!.cues.map(({ kind }) => kind)).not.toContain('tilt-down');
    store.close();
  });
});

describe('a baby named in the middle of a feed', () => {
  it('has no cue from then on that it is not to have; nothing is turned on; the replay knows', async () => {
    const sleeve = new SimulatedSleeve({ feed: { scenario: 'hurried-start', seed: 1 } });
    const calibration = parseCalibration(sleeve.feed.calibration, 'simulated');
    const { store, kept, guide } = storeWith({}, { name: 'Sol', answers: { ...NO_TO_ALL, cleft: true } });
    const { live, until, views, run } = await liveRun(sleeve, {
      calibration,
      storage: () => store,
      speed: 4,
      guide,
    });
    live.command({ kind: 'setup', setup: setupOf(kept[0]!) });
    await until((view) => view.showing === 'tilt-down');
    // With the nipple in, it turns out that the wrong baby was chosen.
    live.command({ kind: 'setup', setup: setupOf(kept[1]!) });
    await run(0.5);
    expect(views.at(-1)!.view).toMatchObject({ feedState: 'open', notices: ['cues-off'] });
    const from = views.length;
    await run(15);
    live.command({ kind: 'setup', setup: setupOf(kept[0]!) });
    await run(5);
    live.command({ kind: 'end-feed' });
    const later = views.slice(from).map(({ view }) => view.showing);
    expect(later).toContain('gentle');
    expect(later.filter((showing) => showing === 'tilt-down' || showing === 'keep-low')).toEqual([]);
    const feed = store.get('feed-1')!;
    expect(feed.events.filter(({ kind }) => kind === 'cues-off')).toHaveLength(1);
    const { bytes } = readCapture(store.capturePath('feed-1')!);
    expect(replay([bytes], asItRan(feed, calibration)).result.cues).toEqual(feed.cues);
    store.close();
  });
});

describe('a baby that nobody was asked about', () => {
  async function hurried() {
    const sleeve = new SimulatedSleeve({ feed: { scenario: 'hurried-start', seed: 1 } });
    const calibration = parseCalibration(sleeve.feed.calibration, 'simulated');
    const { store, guide } = storeWith();
    const run = await liveRun(sleeve, { calibration, storage: () => store, speed: 4, guide });
    const newborn = { ...EMPTY_SETUP, babyName: 'Wren', babyBirthDate: '2025-12-22' };
    return { ...run, store, calibration, newborn };
  }
  const slower = (shown: { view: LiveView }[]) =>
    shown.filter(({ view }) => view.showing === 'tilt-down' || view.showing === 'keep-low');

  it('a newborn typed in before the feed is not paced, and the page says why; it is measured and kept', async () => {
    const { live, run, views, store, newborn } = await hurried();
    live.command({ kind: 'setup', setup: newborn });
    await run(22);
    expect(slower(views)).toEqual([]);
    expect(views.at(-1)!.view).toMatchObject({ aheadOfPace: null, notices: ['cues-off', 'not-screened'] });
    live.command({ kind: 'end-feed' });
    const feed = store.get('feed-1')!;
    expect(feed.cues.map(({ kind }) => kind)).not.toContain('tilt-down');
    expect(feed.intakeMl).toBeGreaterThan(10);
    store.close();
  });

  it('named in the middle of a simulated feed, it has no cue from then on, nor when the name goes again', async () => {
    const { live, run, until, views, store, calibration, newborn } = await hurried();
    await until((view) => view.showing === 'tilt-down');
    live.command({ kind: 'setup', setup: newborn });
    await run(0.5);
    const from = views.length;
    await run(10);
    live.command({ kind: 'setup', setup: EMPTY_SETUP });
    await run(10);
    expect(slower(views.slice(from))).toEqual([]);
    expect(views.at(-1)!.view.notices).toEqual(['cues-next-feed']);
    live.command({ kind: 'end-feed' });
    const feed = store.get('feed-1')!;
    const { bytes } = readCapture(store.capturePath('feed-1')!);
    expect(replay([bytes], asItRan(feed, calibration)).result.cues).toEqual(feed.cues);
    store.close();
  });

  it('a kept baby that is answered for anew in the middle of a feed has none from then on', async () => {
    const { live, run, until, views, store } = await hurried();
    const baby = store.addBaby(babyEntry());
    live.command({ kind: 'setup', setup: setupOf(baby) });
    await until((view) => view.showing === 'tilt-down');
    store.changeBaby(baby.id, babyEntry({ answers: { ...NO_TO_ALL, jaundice: true } }));
    await run(2.5);
    const from = views.length;
    await run(10);
    expect(slower(views.slice(from))).toEqual([]);
    expect(views.at(-1)!.view.notices).toEqual(['cues-off']);
    live.command({ kind: 'end-feed' });
    store.close();
  });
});

describe('two babies', () => {
  async function withTwo() {
    const sleeve = createScriptedSleeve();
    const { store, kept, guide } = storeWith({}, { name: 'Sol' });
    const run = await liveRun(sleeve, { calibration: sleeve.calibration, storage: () => store, guide });
    const feedFor = async (seconds: number) => {
      // The bottle stands for a moment and is weighed again.
      await run.run(2);
      sleeve.mouth = 'sucking';
      await run.until((view) => view.teatInMouth);
      await run.run(seconds);
      sleeve.mouth = 'out';
      await run.run(3);
    };
    await run.run(8);
    return { ...run, sleeve, store, kept, feedFor };
  }

  it('after a feed, the next is nobody’s until it is said whose', async () => {
    const { live, kept, store, feedFor, views } = await withTwo();
    const last = () => views.at(-1)!.view;
    live.command({ kind: 'setup', setup: { ...setupOf(kept[0]!), bottleName: 'blue', caregiver: 'Juno' } });
    await feedFor(10);
    expect(last().notices).toEqual([]);
    live.command({ kind: 'end-feed' });
    expect(last()).toMatchObject({
      notices: ['whose-feed'],
      setup: { babyId: null, babyName: null, bottleName: null, caregiver: 'Juno' },
    });
    await feedFor(10);
    live.command({ kind: 'end-feed' });
    expect(store.get('feed-1')!.setup).toMatchObject({ babyId: kept[0]!.id, bottleName: 'blue' });
    expect(store.get('feed-2')!.setup).toMatchObject({ babyId: null, bottleName: null });
    store.close();
  });

  it('said in the middle of the feed, it stands beside it', async () => {
    const { live, kept, store, feedFor } = await withTwo();
    await feedFor(10);
    live.command({ kind: 'setup', setup: setupOf(kept[1]!) });
    await feedFor(10);
    live.command({ kind: 'end-feed' });
    expect(store.get('feed-1')).toMatchObject({
      setup: { babyName: null },
      corrected: { setup: { babyId: kept[1]!.id, babyName: 'Sol' } },
    });
    expect(store.list({ babyId: kept[1]!.id })).toHaveLength(1);
    store.close();
  });

  it('the other one chosen while the nipple is out: the first one’s feed is over', async () => {
    const { live, kept, store, feedFor } = await withTwo();
    live.command({ kind: 'setup', setup: setupOf(kept[0]!) });
    await feedFor(10);
    live.command({ kind: 'setup', setup: setupOf(kept[1]!) });
    await feedFor(10);
    live.command({ kind: 'end-feed' });
    expect(store.get('feed-1')).toMatchObject({ endReason: 'page', setup: { babyName: 'Wren' } });
    expect(store.get('feed-1')).not.toHaveProperty('corrected');
    expect(store.get('feed-2')).toMatchObject({ setup: { babyName: 'Sol' } });
    store.close();
  });
});

describe('a store that cannot be read', () => {
  it('leaves what was known of this baby; of another, no "slower" and no "enough"', async () => {
    const sleeve = createScriptedSleeve();
    const { store, kept, guide } = storeWith({}, { name: 'Sol' });
    let broken = false;
    const { live, view, views } = await liveRun(sleeve, {
      calibration: sleeve.calibration,
      storage: () => store,
      guide(setup) {
        if (broken) throw new PlainError('store-busy', 'The store is busy.', 'Wait.');
        return guide(setup);
      },
    });
    expect(view.notices).toEqual(['whose-feed']);
    const notices = () => views.at(-1)!.view.notices;
    live.command({ kind: 'setup', setup: setupOf(kept[0]!) });
    broken = true;
    live.command({ kind: 'setup', setup: { ...setupOf(kept[0]!), caregiver: 'Ash' } });
    expect(notices()).toEqual([]);
    live.command({ kind: 'setup', setup: setupOf(kept[1]!) });
    expect(notices()).toEqual(['cues-off']);
    broken = false;
    live.command({ kind: 'setup', setup: setupOf(kept[1]!) });
    expect(notices()).toEqual([]);
    store.close();
  });
});

describe('interruptions', () => {
  it('a second caregiver goes on: both are kept', async () => {
    const { live, latch, run, stand, storage, now } = await scripted();
    live.command({ kind: 'setup', setup: { ...EMPTY_SETUP, caregiver: 'Juno' } });
    await latch();
    await run(5);
    live.command({ kind: 'hand-over', caregiver: 'Juno' });
    live.command({ kind: 'hand-over', caregiver: 'Ash' });
    expect(now().caregiverNow).toBe('Ash');
    await stand(300);
    await latch();
    live.command({ kind: 'end-feed' });
    expect(storage.only.summary.setup.caregiver).toBe('Juno');
    expect(keptEvents(storage.only).filter(({ kind }) => kind === 'handed-over')).toEqual([
      { kind: 'handed-over', atSec: expect.any(Number), caregiver: 'Ash' },
    ]);
    expect(storage.setup.caregiver).toBe('Ash');
  });

  it('a feed stays open for longer than "look again" takes, so that a little more is part of it', async () => {
    const { againSec, uprightSec } = paceParams(SHIPPED_PROFILE).after;
    expect(TEAT_AWAY_SEC).toBeGreaterThan(Math.max(againSec, uprightSec) + 10 * 60);
    const { latch, run, stand, storage } = await scripted();
    await latch();
    await run(10);
    await stand(againSec + 60);
    await latch();
    await run(1);
    expect(storage.feeds).toHaveLength(1);
  });
});

describe('what the sleeve says of itself', () => {
  it('battery low is told once it lasts, and stays told', async () => {
    const { sleeve, run, latch, now } = await scripted();
    sleeve.faults = SAMPLE_FLAGS.supplyLow;
    await run(0.2);
    sleeve.faults = 0;
    await run(1);
    expect(now().notices).toEqual([]);
    sleeve.faults = SAMPLE_FLAGS.supplyLow;
    await run(1);
    sleeve.faults = 0;
    await latch();
    expect(now()).toMatchObject({ feedState: 'open', notices: ['battery-low'], qualityReason: null });
  });

  it('a cell that stays silent is told while it is: the feed goes on without it', async () => {
    const { sleeve, run, latch, now } = await scripted();
    await latch();
    await run(20);
    sleeve.faults = SAMPLE_FLAGS.frontCellFault;
    await run(2);
    expect(now().notices).toEqual([]);
    await run(4);
    expect(now()).toMatchObject({ feedState: 'open', showing: 'gentle', notices: ['check-sleeve'] });
    sleeve.faults = 0;
    await run(1);
    expect(now().notices).toEqual([]);
  });

  it('"which sleeve is this?": three glows, then as before; a feed goes before', async () => {
    const { live, run, said, latch, clock } = await scripted();
    const from = clock.nowMs;
    live.command({ kind: 'which-sleeve' });
    await run(6);
    const glows = said.light.filter(({ atMs, light }) => atMs >= from && light.green > 100);
    expect(glows.map(({ atMs }) => Math.round((atMs - from) / 100) * 100)).toEqual([0, 1200, 2400]);
    expect(said.light.at(-1)!.light).toEqual({ red: 0, green: 0, blue: 0 });
    await latch();
    await run(1);
    live.command({ kind: 'which-sleeve' });
    await run(2);
    expect(said.light.at(-1)!.light.green).toBeLessThan(100);
  });
});

describe('sound', () => {
  it('is off until somebody turns it on, which is kept', async () => {
    const sleeve = createScriptedSleeve();
    const kept: boolean[] = [];
    const { live, views } = await liveRun(sleeve, {
      calibration: sleeve.calibration,
      soundOn: false,
      keepSoundOn: (on) => kept.push(on),
    });
    expect(views.at(-1)!.view.muted).toBe(true);
    live.command({ kind: 'mute', on: false });
    expect(views.at(-1)!.view.muted).toBe(false);
    live.command({ kind: 'mute', on: true });
    expect(kept).toEqual([true, false]);
    live.stop();
  });
});
