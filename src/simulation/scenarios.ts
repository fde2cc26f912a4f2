/** The simulated feeds by name: their differences from the defaults. The babies are invented. */
import { keysOf } from '../base/typed.ts';
import { DEFAULT_PARAMETERS } from './defaults.ts';
import { type FeedParameters, LET_DOWN_SHARES, type Overrides, withOverrides } from './parameters.ts';

export interface Scenario {
  /** One line for people. */
  about: string;
  differs: Overrides;
}

/** Wide awake, long bursts, short pauses, a wide hole: as with a bottle held steeply over a lying baby. */
const GULPING = {
  sucks: [26, 36],
  pauseSec: [2, 3],
} as const;

export const SCENARIOS = {
  'hurried-start': {
    about: 'Begins with the bottle tipped up and a hungry baby; gentle once the caregiver minds the light.',
    differs: {
      milkMl: 100,
      baby: { suckRatePerMin: 66, eagerMl: 30, eager: GULPING, appetiteMl: 84 },
      teat: { holeMm: 0.66 },
      caregiver: { standSec: 3.5, steepTiltDeg: 145, care: 0, carePerCue: 1, coverDepthMm: 5 },
    },
  },
  paced: {
    about: 'A careful caregiver: nearly level, a few sucks, then lowered; burped every half ounce.',
    differs: { caregiver: { burpEveryMl: 15 } },
  },
  'tipped-up': {
    about: 'Bottle held steeply from beginning to end: four ounces in about five minutes.',
    differs: {
      milkMl: 120,
      baby: {
        suckRatePerMin: 69,
        eagerMl: 1e6,
        eager: GULPING,
        appetiteMl: 200,
      },
      teat: { holeMm: 0.585 },
      caregiver: { care: 0, steepTiltDeg: 150 },
    },
  },
  'let-down': {
    about: 'Milk comes as at a breast: fast for some minutes, then slow; two sides.',
    differs: {
      milkMl: 90,
      baby: {
        letDown: { perSideMl: 37.5, shareByMin: LET_DOWN_SHARES },
        eagerMl: 50,
        eager: { sucks: [14, 24], pauseSec: [2, 3.5] },
        appetiteMl: 74,
        fadeMl: 3,
      },
      caregiver: { care: 0.6, switchAtMin: 14.5 },
    },
  },
  drowsy: {
    about: 'The baby tires after some minutes, sucks ever less and falls asleep with milk left.',
    differs: {
      baby: { sleepyFromMin: 4, asleepAtMin: 13, appetiteMl: 120 },
      caregiver: { burpEveryMl: 15 },
    },
  },
  spill: {
    about: 'A careful feed; half-way the bottle is knocked over and milk runs out.',
    differs: {
      caregiver: {
        burpEveryMl: 15,
        handlings: [{ kind: 'spill', afterMl: 36, volumeMl: 12, overSec: 4 }],
      },
    },
  },
  refill: {
    about: 'A careful feed from a small portion; an ounce is poured in half-way.',
    differs: {
      milkMl: 60,
      caregiver: {
        burpEveryMl: 15,
        handlings: [{ kind: 'refill', afterMl: 36, volumeMl: 30, overSec: 6 }],
      },
    },
  },
  'second-bottle': {
    about: 'A small bottle, then another, fuller one put into the sleeve.',
    differs: {
      milkMl: 50,
      caregiver: { burpEveryMl: 15, handlings: [{ kind: 'second-bottle', afterMl: 38, milkMl: 70 }] },
    },
  },
} as const satisfies Record<string, Scenario>;

export type ScenarioName = keyof typeof SCENARIOS;

export const SCENARIO_NAMES = keysOf(SCENARIOS);

/** What `ebbline start` plays when nothing else is asked for. */
export const DEFAULT_SCENARIO: ScenarioName = 'hurried-start';

export interface FeedOptions {
  scenario: ScenarioName;
  /** Any whole number up to 2^53. */
  seed: number;
  /** Whether the caregiver follows the cues; default no. */
  follows?: boolean;
  /** Applied to the scenario, part by part. */
  overrides?: Overrides;
}

/**
 * @returns the defaults with the overrides of the scenario and then of the options
 * @throws RangeError when there is no scenario of that name
 */
export function parametersOf({ scenario, follows, overrides }: FeedOptions): FeedParameters {
  const differs: Overrides | undefined = SCENARIOS[scenario]?.differs;
  if (!differs) throw new RangeError(`There is no simulated feed named "${scenario}".`);
  const parameters = withOverrides(DEFAULT_PARAMETERS, differs);
  const asked = follows === undefined ? {} : { caregiver: { follows } };
  return withOverrides(withOverrides(parameters, asked), overrides ?? {});
}
