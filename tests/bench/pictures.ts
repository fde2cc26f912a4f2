/** Draws what the README shows: the fast simulated feed, left alone and with a caregiver who follows the light, over each other. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { refineEngine } from '../../src/feed/engine.ts';
import type { FeedRow, KeptFeed } from '../../src/feed/record/feed.ts';
import { kindOf } from '../../src/pacing/cues/shown-cues.ts';
import { FAMILY_GUIDANCE } from '../../src/pacing/index.ts';
import { compareGraphSvg } from '../../src/review/index.ts';
import { keptFeed } from '../support/kept-feeds.ts';
import { runFeed } from './paced-feed.ts';

const FOLDER = fileURLToPath(new URL('../../pictures/', import.meta.url));
const SEED = 500;
const ROW_SEC = 0.5;

function fastFeed(follows: boolean): KeptFeed {
  const rows: FeedRow[] = [];
  const { engine, shown } = runFeed({
    scenario: 'tipped-up',
    seed: SEED,
    follows,
    guidance: FAMILY_GUIDANCE,
    refinable: true,
    onTick: ({ moment }) => {
      if (moment.atSec < rows.length * ROW_SEC) return;
      const { atSec, milkMl, flowMlPerMin, intakeMl, teatInMouth, tiltDeg } = moment;
      rows.push({ atSec, milkMl, flowMlPerMin, intakeMl, teatInMouth, tiltDeg });
    },
  });
  const refined = refineEngine(engine);
  const inMouth = rows.filter((row) => row.teatInMouth);
  return keptFeed({
    id: follows ? 'followed' : 'alone',
    rows,
    refined,
    events: refined.events,
    // Only the cues that were shown; more are recorded.
    cues: shown.map(({ kind, atSec }) => ({
      kind: kindOf(kind),
      atSec,
      because: '',
    })),
    intakeMl: refined.totals.intakeMl,
    spiltMl: refined.totals.spiltMl,
    addedMl: refined.totals.addedMl,
    durationSec: inMouth.at(-1)!.atSec - inMouth[0]!.atSec,
    captureFile: null,
  });
}

export function drawPictures(): void {
  mkdirSync(FOLDER, { recursive: true });
  const svg = compareGraphSvg(fastFeed(false), fastFeed(true), { timeZone: 'UTC', volumeUnit: 'fl-oz' });
  writeFileSync(`${FOLDER}fast-feed.svg`, svg);
  console.log('pictures/fast-feed.svg');
}
