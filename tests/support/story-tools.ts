/** Tools for the feeds with a story. Invented babies. */
import type { Light } from '../../src/feed/live/light-language.ts';
import { cueInLight } from '../../src/feed/live/light-language.ts';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import type { Baby } from '../../src/feed/record/baby.ts';
import type { FeedSetup } from '../../src/feed/record/feed.ts';
import { type Guided, guidedSetup } from '../../src/feed/recording/guided.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import type { ScenarioName } from '../../src/simulation/scenarios.ts';
import { SimulatedSleeve } from '../../src/simulation/sleeve-model.ts';
import { babyEntry } from './babies.ts';
import { EMPTY_SETUP } from './fake-live.ts';
import { type LiveRun, liveRun, RUN_STARTS_MS } from './live-run.ts';
import { MemoryStorage } from './memory-storage.ts';

export interface Moment {
  name: string;
  view: LiveView;
}

export interface Story {
  moments: Moment[];
  /** Everything shown, in order, each once. */
  shown: string[];
}

const kept = (id: string, name: string): Baby => ({
  ...babyEntry({ name }),
  id,
  createdAtMs: RUN_STARTS_MS,
  answeredAtMs: RUN_STARTS_MS,
  quietSinceMs: null,
});
export const WREN = kept('wren', 'Wren');
export const LINNET = kept('linnet', 'Linnet');
export const FOR_WREN: FeedSetup = { ...EMPTY_SETUP, babyId: 'wren', babyName: 'Wren' };

export const guideOf =
  (babies: readonly Baby[]) =>
  (setup: FeedSetup): Guided =>
    guidedSetup(setup, babies, () => [], RUN_STARTS_MS, true);

/** A simulated baby and caregiver on the live feed. */
export async function simulated(
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
    storage: (clock) => {
      const storage = new MemoryStorage(() => clock.nowMs);
      storage.setup = setup;
      return storage;
    },
    guide: guideOf(babies),
    outputs: { setLight: (now) => (light = now), sound: () => {}, heartbeat: () => {} },
  });
  return run;
}

/** Records what the page shows now, under a name. */
export function teller({ views }: Pick<LiveRun, 'views'>) {
  const moments: Moment[] = [];
  return {
    take: (name: string) => moments.push({ name, view: structuredClone(views.at(-1)!.view) }),
    story: (): Story => ({ moments, shown: [...new Set(views.map(({ view }) => view.showing))] }),
  };
}

export const inFeed = (view: LiveView) => view.feedState === 'open' && view.teatInMouth;
export const out = (view: LiveView) => view.feedState === 'open' && !view.teatInMouth;
