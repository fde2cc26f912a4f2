/** The calibration's check over simulated feeds: how often it would say something, and whether it should. All in simulation. */
import {
  createScanner,
  encodeMessage,
  MESSAGES,
  scan,
  stepTimeline,
  TIMELINE_START,
} from '../../firmware-bridge/wire/index.ts';
import { FEED_CHECK_START, stepFeedCheck } from '../../src/calibration/check/feed-check.ts';
import type { CalibrationVerdict } from '../../src/calibration/check/plausibility.ts';
import { createRestingWatch, stepResting } from '../../src/calibration/walk/resting.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { type FeedOptions, SCENARIO_NAMES } from '../../src/simulation/scenarios.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { HARDSHIPS } from '../support/hardships.ts';

const LONGEST_SAMPLES = 80 * 60 * 40;
const NOW = { nowIso: '2026-01-06T00:00:00Z' };

interface Heard {
  holds: Record<CalibrationVerdict, number>;
  largestGrams: number;
}

/** Every hold at rest of one feed, judged by itself. @param frontGrams how far the front cell's zero has moved since the calibration */
function heardIn(options: FeedOptions, frontGrams = 0): Heard {
  const feed = createSimulatedFeed(options);
  const content = structuredClone(feed.calibration);
  content.zeroCounts[1] += (frontGrams * 0.00980665) / content.loadPerCount[0][1];
  const calibration = parseCalibration(content, 'of the simulated feed');
  const watch = createRestingWatch(calibration);
  const scanner = createScanner();
  const heard: Heard = { holds: { good: 0, watch: 0, again: 0 }, largestGrams: 0 };
  let timeline = TIMELINE_START;
  let onMouth = false;
  const sample = (one: Parameters<typeof stepTimeline>[1]): void => {
    const step = stepTimeline(timeline, one);
    timeline = step.timeline;
    const hold = step.timed && stepResting(watch, step.timed, !onMouth);
    const check = hold && stepFeedCheck(FEED_CHECK_START, calibration, hold, NOW).recent[0]?.check;
    if (!check) return;
    heard.holds[check.verdict] += 1;
    heard.largestGrams = Math.max(heard.largestGrams, check.zeroShiftGrams ?? 0);
  };
  for (let i = 0; i < LONGEST_SAMPLES && !feed.done; i++) {
    const step = feed.step();
    onMouth = step.truth.onMouth;
    if (step.sample) scan(scanner, encodeMessage(MESSAGES.SAMPLE, step.sample), { sample });
  }
  return heard;
}

function line(name: string, { holds, largestGrams }: Heard): void {
  const columns = [holds.good + holds.watch + holds.again, holds.watch, holds.again].map((count) =>
    String(count).padStart(8),
  );
  console.log(`  ${name.padEnd(34)}${columns.join('')}${`${largestGrams.toFixed(1)} g`.padStart(12)}`);
}

export function benchFeedCheck(): void {
  console.log(
    '\n  The check at every feed, in simulation: holds at rest in one feed, and what each of them alone would say',
  );
  console.log(
    `  ${''.padEnd(34)}${'holds'.padStart(8)}${'watch'.padStart(8)}${'again'.padStart(8)}${'largest'.padStart(12)}`,
  );
  for (const scenario of SCENARIO_NAMES) line(scenario, heardIn({ scenario, seed: 1, follows: true }));
  for (const [name, overrides] of Object.entries(HARDSHIPS))
    line(`paced, ${name}`, heardIn({ scenario: 'paced', seed: 1, overrides }));
  for (const grams of [2, 5, 10])
    line(`paced, front zero moved by ${grams} g`, heardIn({ scenario: 'paced', seed: 1 }, grams));
}
