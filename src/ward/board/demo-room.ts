/** An invented room whose feeds follow a random script by seed, so that a board can be tried without hardware. Pure. */
import { Random } from '../../base/random.ts';
import type { LinkCause, Showing } from '../../feed/live/live-view.ts';
import type { QualityReason } from '../../sensing/moment.ts';
import type { SleeveState } from './sleeve-state.ts';

interface Scene {
  showing: Showing;
  feedState: SleeveState['feedState'];
  lastsSec: number;
  cause?: LinkCause;
  quality?: QualityReason;
}

/** Scenes between quiet stretches of a feed, with its shortest and longest time, seconds. */
const TURNS: readonly (readonly [Scene['showing'], number, number, Partial<Scene>?])[] = [
  ['tilt-down', 4, 20],
  ['tilt-down', 40, 80],
  ['keep-low', 6, 25],
  ['burp', 20, 120],
  ['burp', 20, 120],
  ['switch-side', 10, 40],
  ['lower-is-fine', 10, 20],
  ['held-steeply', 10, 20],
  ['cannot-tell', 8, 30, { quality: 'roll' }],
  ['cannot-tell', 8, 30, { quality: 'not-weighed' }],
  ['no-guidance', 8, 25, { cause: 'lost' }],
];

/** @param cots numbers of sleeves from 1 on @returns their states at a time after the start */
export function demoRoom(seed: number, cots: number): (atSec: number) => SleeveState[] {
  const scripts = Array.from({ length: cots }, (_, i) => demoCot(seed, i + 1));
  return (atSec) => scripts.map((told) => told(atSec));
}

function demoCot(seed: number, sleeve: number): (atSec: number) => SleeveState {
  const random = new Random(seed, `cot ${sleeve}`);
  const scenes = [...feedScenes(random), ...feedScenes(random)];
  const wholeSec = scenes.reduce((sum, { lastsSec }) => sum + lastsSec, 0);
  // Feeds start at different times.
  const aheadSec = random.between([0, wholeSec]);
  return (atSec) => {
    const roundSec = atSec + aheadSec;
    let leftSec = roundSec % wholeSec;
    let feedForSec = 0;
    let number = 2 * Math.floor(roundSec / wholeSec);
    for (const scene of scenes) {
      if (scene.feedState === 'none') {
        feedForSec = 0;
        number += 1;
      }
      if (leftSec < scene.lastsSec) {
        const isOpen = scene.feedState === 'open';
        return {
          sleeve,
          showing: scene.showing,
          shownForSec: leftSec,
          feedId: scene.feedState === 'none' ? null : `demo-${sleeve}-${number}`,
          feedState: scene.feedState,
          feedForSec: isOpen ? feedForSec + leftSec : null,
          cause: scene.cause ?? null,
          quality: scene.quality ?? null,
          calibration: null,
        };
      }
      leftSec -= scene.lastsSec;
      if (scene.feedState === 'open') feedForSec += scene.lastsSec;
    }
    throw new Error('a script that does not fill its own length');
  };
}

/** Ready, a feed with some turns, and a while after it. */
function feedScenes(random: Random): Scene[] {
  const open = (showing: Showing, fromSec: number, toSec: number, more: Partial<Scene> = {}): Scene => ({
    showing,
    feedState: 'open',
    lastsSec: random.between([fromSec, toSec]),
    ...more,
  });
  const scenes: Scene[] = [
    { showing: 'waiting', feedState: 'none', lastsSec: random.between([30, 150]) },
    open('gentle', 40, 120),
  ];
  for (let turns = random.integer([2, 4]); turns > 0; turns--) {
    const [showing, fromSec, toSec, more] = TURNS[random.integer([0, TURNS.length - 1])]!;
    scenes.push(open(showing, fromSec, toSec, more), open('gentle', 30, 120));
  }
  scenes.push(open(random.uniform() < 0.2 ? 'asleep-early' : 'offer-stop', 15, 70));
  scenes.push({ showing: 'waiting', feedState: 'ended', lastsSec: random.between([60, 180]) });
  return scenes;
}
