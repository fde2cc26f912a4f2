/** One whole feed on the emulated chip with the whole program above it, unplugged and reset again and again. */
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { emulatedFeed } from '../support/emulated-feed.ts';
import { seededRandom } from '../support/random.ts';
import type { BenchRow } from './firmware.ts';

const UNPLUGGED_SEC = 0.8;

interface Outcome {
  goesOn: boolean;
  resets: number;
  /** Times unplugged, and how often the view showed it. */
  gaps: number;
  gapsShown: number;
  offMl: number;
  truthMl: number;
}

/** Half of the `interruptions` are a pulled cable for 0.8 s, half a reset of the chip, 4 to 12 s apart. */
export async function interruptedFeed(interruptions: number): Promise<BenchRow[]> {
  const disturbed = await runFeed(interruptions, true);
  const calm = await runFeed(interruptions, false);
  const { goesOn, resets, gaps, gapsShown, offMl, truthMl } = disturbed;
  return [
    row(
      `${gaps} times unplugged, ${resets} times reset in mid-feed: the same feed goes on`,
      goesOn ? 'yes' : 'no',
      'yes',
      goesOn && gaps + resets === interruptions,
    ),
    row('… gaps shown while unplugged', `${gapsShown} of ${gaps}`, 'all', gapsShown === gaps),
    row(
      `… intake against the truth of ${truthMl.toFixed(1)} mL`,
      `${offMl.toFixed(2)} mL (undisturbed ${calm.offMl.toFixed(2)} mL)`,
      'within 2 mL',
      Math.abs(offMl) <= 2,
    ),
  ];
}

async function runFeed(interruptions: number, disturb: boolean): Promise<Outcome> {
  const random = seededRandom(11);
  const feed = createSimulatedFeed({ scenario: 'paced', seed: 4 });
  const { sleeve, run, board } = await emulatedFeed(feed);
  await run.until(({ feedState }) => feedState === 'open', 120);
  let gaps = 0;
  let gapsShown = 0;
  for (let done = 0; done < interruptions && !feed.done; done++) {
    await run.run(4 + 8 * random());
    if (done % 2 === 1) {
      if (disturb) sleeve.reset('external');
      continue;
    }
    if (disturb) run.link.unplug();
    await run.run(UNPLUGGED_SEC);
    gaps++;
    if (run.view.showing === 'no-guidance') gapsShown++;
    run.link.replug();
  }
  await run.run(10);
  const truthMl = feed.truth.intakeMl;
  const offMl = (run.view.numbers.intakeMl ?? Number.NaN) - truthMl;
  const goesOn = run.storage.feeds.length === 1 && run.view.feedState === 'open';
  run.live.stop();
  board.close();
  return { goesOn, resets: sleeve.chip.resets.external, gaps, gapsShown, offMl, truthMl };
}

const row = (what: string, measured: string, goal: string, ok: boolean): BenchRow => ({
  what,
  measured,
  goal,
  ok,
});
