/** Ten stories of a feed, played on simulated sleeves in virtual time: what the page was told at the moments that matter. Invented babies. */
import type { Light } from '../../src/feed/live/light-language.ts';
import { cueInLight } from '../../src/feed/live/light-language.ts';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import type { Baby } from '../../src/feed/record/baby.ts';
import type { FeedSetup } from '../../src/feed/record/feed.ts';
import { type Guided, guidedSetup } from '../../src/feed/session/guided.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import type { ScenarioName } from '../../src/simulation/scenarios.ts';
import { SimulatedSleeve } from '../../src/simulation/sleeve-model.ts';
import { babyEntry } from './babies.ts';
import { FakeKeeper } from './fake-keeper.ts';
import { EMPTY_SETUP } from './fake-live.ts';
import { scripted, showing } from './live-feeds.ts';
import { type LiveRun, liveRun, RUN_STARTS_MS } from './live-run.ts';

export interface Moment {
  name: string;
  view: LiveView;
}

export interface Story {
  moments: Moment[];
  /** All that was shown, in order, each once. */
  shown: string[];
}

const kept = (id: string, name: string): Baby => ({
  ...babyEntry({ name }),
  id,
  createdAtMs: RUN_STARTS_MS,
  answeredAtMs: RUN_STARTS_MS,
  quietSinceMs: null,
});
const WREN = kept('wren', 'Wren');
const LINNET = kept('linnet', 'Linnet');
const FOR_WREN: FeedSetup = { ...EMPTY_SETUP, babyId: 'wren', babyName: 'Wren' };

const guideOf =
  (babies: readonly Baby[]) =>
  (setup: FeedSetup): Guided =>
    guidedSetup(setup, babies, () => [], RUN_STARTS_MS, true);

/** A simulated baby and caregiver on the live feed. */
async function simulated(
  scenario: ScenarioName,
  { follows = false, babies = [WREN], setup = FOR_WREN, seed = 3 } = {},
) {
  let light: Light = { red: 0, green: 0, blue: 0 };
  const sleeve = new SimulatedSleeve({
    feed: { scenario, seed, follows },
    perceive: () => cueInLight(light),
  });
  const run = await liveRun(sleeve, {
    calibration: parseCalibration(sleeve.feed.calibration, 'simulated'),
    keeper: (clock) => {
      const keeper = new FakeKeeper(() => clock.nowMs);
      keeper.setup = setup;
      return keeper;
    },
    guide: guideOf(babies),
    outputs: { setLight: (now) => (light = now), sound: () => {}, heartbeat: () => {} },
  });
  return run;
}

/** Takes what the page is told just now under a name. */
function teller({ views }: Pick<LiveRun, 'views'>) {
  const moments: Moment[] = [];
  return {
    take: (name: string) => moments.push({ name, view: structuredClone(views.at(-1)!.view) }),
    story: (): Story => ({ moments, shown: [...new Set(views.map(({ view }) => view.showing))] }),
  };
}

const inFeed = (view: LiveView) => view.feedState === 'open' && view.teatInMouth;
const out = (view: LiveView) => view.feedState === 'open' && !view.teatInMouth;

async function newbornUnscreened(): Promise<Story> {
  // 14 days before the run begins.
  const setup: FeedSetup = { ...EMPTY_SETUP, babyName: 'Robin', babyBirthDate: '2025-12-22' };
  const run = await simulated('tipped-up', { babies: [], setup });
  const { take, story } = teller(run);
  await run.until(showing('waiting'));
  take('before');
  await run.until(showing('held-steeply'));
  take('held-steeply');
  await run.run(70);
  take('pours-and-no-cue');
  return story();
}

async function pouredUnheeded(): Promise<Story> {
  const run = await simulated('tipped-up');
  const { take, story } = teller(run);
  for (const one of ['held-steeply', 'tilt-down', 'keep-low', 'nipple-out'] as const) {
    await run.until(showing(one), 240);
    take(one);
  }
  await run.until(showing('last-burp'), 400);
  take('emptied');
  return story();
}

async function pouredHeeded(): Promise<Story> {
  const run = await simulated('hurried-start', { follows: true });
  const { take, story } = teller(run);
  await run.until(showing('tilt-down'), 120);
  take('lower-your-hand');
  await run.until(showing('gentle'), 60);
  take('lowered');
  await run.until(showing('burp'), 600);
  take('burp');
  return story();
}

async function letDown(): Promise<Story> {
  const run = await simulated('let-down');
  const { take, story } = teller(run);
  await run.until(inFeed, 60);
  await run.run(100);
  take('let-down');
  await run.until(showing('burp'), 600);
  take('burp');
  return story();
}

async function sleepyBaby(): Promise<Story> {
  const run = await simulated('drowsy');
  const { take, story } = teller(run);
  await run.until(showing('offer-stop'), 1500);
  take('look-at-baby');
  run.live.command({ kind: 'end-feed' });
  take('ended');
  return story();
}

async function refusal(): Promise<Story> {
  const run = await scripted();
  const { sleeve } = run;
  const { take, story } = teller(run);
  await run.latch();
  await run.run(60);
  for (let offer = 0; offer < 3; offer++) {
    sleeve.mouth = 'out';
    await run.until(out);
    await run.run(8);
    sleeve.mouth = 'resting';
    await run.until(inFeed);
    await run.run(6);
  }
  sleeve.mouth = 'out';
  await run.until(showing('offer-stop'), 20);
  take('look-at-baby');
  return story();
}

/** Half-way more milk comes into the bottle, or runs out of it, with the nipple out. */
async function handled(scenario: 'refill' | 'spill'): Promise<Story> {
  const run = await simulated(scenario);
  const { take, story } = teller(run);
  const kind = scenario === 'refill' ? 'refill' : 'spill';
  const happened = () =>
    run.keeper.feeds[0]?.parts.some(({ events }) => events.some((one) => one.kind === kind)) ?? false;
  await run.until(happened, 900);
  take(`just-after-the-${kind}`);
  await run.until((view) => inFeed(view) && view.showing !== 'cannot-tell', 120);
  take('goes-on');
  return story();
}

async function unplugged(): Promise<Story> {
  const run = await scripted();
  const { take, story } = teller(run);
  await run.latch();
  await run.run(20);
  run.link.unplug();
  await run.until(showing('no-guidance'), 2);
  take('unplugged');
  await run.run(10);
  run.link.replug();
  await run.until((view) => view.showing !== 'no-guidance', 30);
  take('back');
  return story();
}

async function twoBabies(): Promise<Story> {
  const run = await simulated('paced', { babies: [WREN, LINNET], setup: EMPTY_SETUP });
  const { take, story } = teller(run);
  await run.until(showing('waiting'));
  take('whose-feed');
  run.live.command({ kind: 'setup', setup: FOR_WREN });
  await run.until(inFeed, 60);
  await run.run(30);
  take('wrens-feed');
  run.live.command({ kind: 'end-feed' });
  await run.run(2);
  take('whose-next');
  return story();
}

export const STORIES: Readonly<Record<string, () => Promise<Story>>> = {
  'newborn-unscreened': newbornUnscreened,
  'poured-unheeded': pouredUnheeded,
  'poured-heeded': pouredHeeded,
  'let-down': letDown,
  'sleepy-baby': sleepyBaby,
  refusal,
  'top-up': () => handled('refill'),
  spill: () => handled('spill'),
  unplugged,
  'two-babies': twoBabies,
};
