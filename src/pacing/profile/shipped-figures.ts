/**
 * The shipped figures. They also define the structure of a pace profile (profile.ts). What each figure does is explained in the rule that uses it.
 */

/** One figure of the profile. `min` and `max` are the range it may be set to, both included. */
export interface Figure {
  value: number;
  unit: string;
  min: number;
  max: number;
  source: string;
}

const CONTRACT = 'sleeve contract, section 5';
const OWN = "the project's own design, no source";
const PRACTICE = 'common practice, no source';

const f = (value: number, unit: string, min: number, max: number, source: string): Figure => ({
  value,
  unit,
  min,
  max,
  source,
});

export const SHIPPED_FIGURES = {
  name: 'shipped',
  buckets: {
    lasting: {
      rateMlPerMin: f(
        8,
        'mL/min',
        2,
        20,
        `${CONTRACT}; beside it 7.9 mL/min in the two fast 4-min stretches of a feed at the breast, day 6 (derived from Lucas, Lucas and Baum 1981, Early Hum Dev 5:195)`,
      ),
      depthMl: f(18, 'mL', 4, 60, CONTRACT),
    },
    pouring: {
      rateMlPerMin: f(
        14,
        'mL/min',
        4,
        40,
        `${CONTRACT}; beside it 14 g/min, the top of the initial flow at the breast, days 5-7 (Howie et al. 1981, Early Hum Dev 5:71)`,
      ),
      depthMl: f(6, 'mL', 2, 30, CONTRACT),
    },
  },
  rearmShare: f(0.5, 'of the depth', 0.1, 0.9, CONTRACT),
  suckPauseSec: f(2, 's without a suck', 1, 10, CONTRACT),
  tiltDown: {
    doubts: f(0.25, 'standard deviations of the last 10 s over the depth', 0, 3, OWN),
    degradedDoubts: f(0.25, 'of the same while the estimate is degraded', 0, 6, OWN),
    unsureIntakeMl: f(
      1.5,
      'mL, standard deviation of all that was taken: as much sooner as it is above',
      0,
      20,
      OWN,
    ),
    unsureFlowMl: f(0.8, 'mL, standard deviation of the last 10 s: sooner if it is above', 0, 5, OWN),
    whollyUnsureFlowMl: f(1.3, 'mL, the same: wholly so', 0.1, 10, OWN),
    soonerAtMostShare: f(0.4, 'of the depth', 0, 0.45, OWN),
    easedAfterSec: f(4, 's without flow', 3, 5, OWN),
    easedUnderMl: f(
      0.2,
      'mL in that time',
      0.05,
      0.5,
      `${OWN}: one small suck (0.17 mL, days 1-4, Qureshi et al. 2002)`,
    ),
    creditShare: f(0.5, 'of what was ahead is kept', 0, 1, OWN),
    gapSec: f(45, 's from one tilt-down to the next', 20, 120, OWN),
    pouringGapSec: f(15, 's at least, while milk keeps pouring', 10, 60, OWN),
    pouringDepths: f(1, 'bucket depths more: milk keeps pouring', 0.5, 3, OWN),
    slowerAfterSec: f(20, 's without a new height: milk has slowed', 10, 60, OWN),
    nippleOutAfter: f(2, 'cues that brought no slower milk: nipple out', 1, 5, OWN),
  },
  burp: {
    dueMl: f(
      15,
      'mL',
      7.5,
      90,
      `${CONTRACT}; half an ounce is common practice, no source; the AAP says every 60-90 mL (2-3 fl oz)`,
    ),
    atMostMl: f(30, 'mL', 7.5, 120, CONTRACT),
    takenOutSec: f(5, 's with the nipple out', 2, 30, CONTRACT),
    takenTiltDeg: f(60, '° at most', 20, 85, CONTRACT),
    asleepSec: f(45, 's without a suck, nipple in: baby may be asleep, no burp cue is shown', 20, 120, OWN),
    showSec: f(60, 's', 10, 180, OWN),
  },
  switchSide: {
    portionShare: f(
      0.5,
      'of the portion',
      0.3,
      0.7,
      "switch sides at half: a hospital's leaflet on paced bottle feeding (Women & Infants Hospital, US)",
    ),
    withoutPlanSec: f(540, 's from the first latch, without a portion', 480, 600, PRACTICE),
    seenSec: f(5, 's shown, then the next latch ends it', 1, 20, OWN),
    showSec: f(30, 's', 10, 180, OWN),
  },
  enough: {
    windowSec: f(150, 's of nipple offered', 120, 180, OWN),
    binSec: f(10, 's', 5, 20, OWN),
    earlierSec: f(240, 's of nipple offered before that', 120, 600, OWN),
    takenMl: f(5, 'mL', 2, 30, OWN),
    offeredTiltDeg: f(60, '° at least', 45, 85, OWN),
    suckShare: f(0.4, "of the baby's earlier sucks a minute", 0.1, 0.5, OWN),
    outsideLullShare: f(0.5, 'of the same, outside of the longest lull', 0.3, 0.7, OWN),
    lullShare: f(0.3, 'of the same: a lull', 0.1, 0.4, OWN),
    stoppedSec: f(120, 's of lull: sucking has stopped', 90, 180, OWN),
    milkShare: f(0.6, "of the baby's earlier milk a minute", 0.2, 0.8, OWN),
    suckShareAtLittleMilk: f(0.5, 'of the sucks, where the milk is little', 0.1, 0.6, OWN),
    littleMilkShare: f(0.33, "of the baby's earlier milk a minute: little", 0.1, 0.5, OWN),
    resumedShare: f(0.7, "of the baby's earlier sucks a minute", 0.4, 0.9, OWN),
    resumedSucks: f(10, 'sucks after the cue', 4, 40, OWN),
    refusals: f(
      3,
      'refusals in a row',
      2,
      5,
      'stop rule of a study: the bottle rejected on 3 consecutive occasions (Ventura et al., Childhood Obesity, year not seen, abstract, n = 21)',
    ),
    refusedWithinSec: f(20, 's offered at most', 5, 60, OWN),
    refusedUnderSucks: f(3, 'sucks: with fewer it is refused', 1, 10, OWN),
    refusedUnderMl: f(0.5, 'mL: with less it is refused', 0.1, 2, OWN),
    newbornDays: f(42, 'days of age: under six weeks fading early is not read as fullness', 28, 84, PRACTICE),
    earlySec: f(600, 's from the first latch: early', 300, 1200, OWN),
    showSec: f(60, 's', 20, 300, OWN),
  },
  suckRhythm: {
    sucks: f(
      8,
      'sucks without a pause',
      3,
      20,
      "5 to 8 sucks, then a pause: common practice, no source; a hospital's leaflet: no breath by the 3rd to 5th suck, pause 3-5 s (Women & Infants Hospital, US)",
    ),
    pauseSec: f(3, 's without a suck: a pause', 2, 5, "3-5 s: the same hospital's leaflet"),
    gapSec: f(20, 's from one to the next', 10, 300, OWN),
    showSec: f(10, 's', 5, 30, OWN),
  },
  cover: {
    steeperDeg: f(20, '° steeper than the hole needs', 10, 60, OWN),
    coveredMm: f(12, 'mm of milk over the hole at least', 5, 40, OWN),
    dryMm: f(3, 'mm under the hole: dry', 1, 20, OWN),
    lastsSec: f(15, 's of it', 5, 60, OWN),
    sucks: f(5, 'sucks meanwhile', 3, 20, OWN),
    easedDeg: f(8, '° lower than over the last 10 s: eased', 4, 30, OWN),
    muteSec: f(10, 's after any easing, and until sucking resumes', 5, 60, OWN),
    gapSec: f(180, 's from one to the next', 120, 900, OWN),
    showSec: f(15, 's', 5, 60, OWN),
  },
  steepHold: {
    overDeg: f(
      120,
      '° from upright: held steeply (level is 90°)',
      100,
      150,
      `${OWN}; that milk runs faster the steeper the bottle is published (bench without a baby, 2023, Am J Speech Lang Pathol, doi 10.1044/2023_AJSLP-23-00109, abstract)`,
    ),
    lastsSec: f(1, 's of it with the nipple in', 0.5, 10, OWN),
    showSec: f(20, 's', 5, 60, OWN),
  },
  fastNipple: {
    pours: f(2, '"too fast" cues with the bottle nearly level', 1, 5, OWN),
    levelDeg: f(110, '° from upright at most: nearly level', 95, 120, OWN),
    levelSec: f(10, 's of it before the cue', 2, 60, OWN),
    showSec: f(30, 's', 10, 120, OWN),
  },
  littleComing: {
    activeSec: f(120, 's of active sucking', 60, 300, OWN),
    underMlPerMin: f(
      1,
      'mL/min of active sucking',
      0.3,
      2,
      `${OWN}; of 375 nipples on a pump the slowest mean was 0.86 mL/min (Pados, Park and Dodrill 2019)`,
    ),
    gapSec: f(600, 's from one to the next', 300, 1800, OWN),
    showSec: f(30, 's', 10, 120, OWN),
  },
  longFeed: {
    afterSec: f(
      1800,
      's from the first latch',
      1200,
      3600,
      'a feed lasts 10-30 min: leaflets disagree (Women & Infants Hospital 10-20, Indiana WIC 15-30), no source',
    ),
    showSec: f(30, 's', 10, 120, OWN),
  },
  after: {
    outSec: f(60, 's with the nipple out after "enough?"', 20, 300, OWN),
    uprightSec: f(
      750,
      's upright',
      600,
      900,
      'upright for 10-15 min after a feed: AAP, no source for the middle',
    ),
    againSec: f(
      1500,
      's from the nipple out to a second look',
      1200,
      1800,
      '20-30 min: common practice, no source',
    ),
    showSec: f(60, 's', 10, 300, OWN),
  },
  quiet: {
    gapSec: f(120, 's at least from one cue shown to the next, milk that pours excepted', 60, 600, OWN),
    atMost: f(8, 'cues shown in a feed, "too fast" and "enough?" excepted', 1, 20, OWN),
    ownBurpRoomMl: f(5, 'mL more before a burp cue is shown to who burps unasked', 0, 15, OWN),
  },
  button: { longPressSec: f(2, 's', 1, 5, PRACTICE) },
};
