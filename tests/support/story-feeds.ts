/** Feeds with a story, played on simulated sleeves in virtual time: what the page showed at the important moments. Invented babies. */
import type { FeedSetup } from '../../src/feed/record/feed.ts';
import { EMPTY_SETUP } from './fake-live.ts';
import { scripted, showing } from './live-feeds.ts';
import { FOR_WREN, inFeed, LINNET, out, type Story, simulated, teller, WREN } from './story-tools.ts';
import { doubt, secondBottle, wrongCalibration } from './trouble-stories.ts';

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

/** Half-way through, milk is added to the bottle or spilt, with the nipple out. */
async function handled(scenario: 'refill' | 'spill'): Promise<Story> {
  const run = await simulated(scenario);
  const { take, story } = teller(run);
  const kind = scenario === 'refill' ? 'refill' : 'spill';
  const happened = () =>
    run.storage.feeds[0]?.parts.some(({ events }) => events.some((one) => one.kind === kind)) ?? false;
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
  'second-bottle': secondBottle,
  'wrong-calibration': wrongCalibration,
  doubt,
  'two-babies': twoBabies,
};
