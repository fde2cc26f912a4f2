/** The profile that ships. Figures only; what each does stands with the rule that uses it. */
import { checkPaceProfile, type Figure, type PaceProfile } from './profile.ts';

const CONTRACT = 'sleeve contract, section 5';
const OWN = "the project's own design, no source";

const f = (value: number, unit: string, min: number, max: number, source: string): Figure => ({
  value,
  unit,
  min,
  max,
  source,
});

/** Checked when this module is loaded: a slip in it stops the program at the start. */
export const SHIPPED_PROFILE: PaceProfile = checkPaceProfile({
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
  },
  burp: {
    dueMl: f(
      15,
      'mL',
      7.5,
      90,
      `${CONTRACT}; half an ounce is common practice, no source; the AAP says every 60-90 mL (2-3 oz)`,
    ),
    atMostMl: f(30, 'mL', 7.5, 120, CONTRACT),
    takenOutSec: f(5, 's with the nipple out', 2, 30, CONTRACT),
    takenTiltDeg: f(60, '° at most', 20, 85, CONTRACT),
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
    resumedShare: f(0.5, "of the baby's earlier sucks a minute", 0.4, 0.9, OWN),
    resumedSucks: f(10, 'sucks after the cue', 4, 40, OWN),
    showSec: f(60, 's', 20, 300, OWN),
  },
  button: { longPressSec: f(2, 's', 1, 5, 'common practice, no source') },
});
