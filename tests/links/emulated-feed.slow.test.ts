/** The whole program over the emulated chip, faster than real time: a feed, its cue read from the pins, and the end of it. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cueInLight } from '../../src/feed/live/light-language.ts';
import { replay } from '../../src/feed/replay.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { SimulatedSleeve } from '../../src/simulation/sleeve-model.ts';
import { emulatedFeed } from '../support/emulated-feed.ts';

const FEED = { scenario: 'hurried-start', seed: 2 } as const;

describe('a feed that begins too fast, on the emulated chip', () => {
  const feed = createSimulatedFeed(FEED);
  let scene: Awaited<ReturnType<typeof emulatedFeed>>;

  beforeAll(async () => {
    scene = await emulatedFeed(feed, { onLook: ({ light }) => feed.perceive(cueInLight(light)) });
    await scene.run.until(({ showing }) => showing === 'tilt-down', 70);
  });
  afterAll(() => scene?.board.close());

  // The truth tests judge the estimate; here the chip must give the same as the simulated sleeve.
  it('is weighed as the same feed is without a chip', () => {
    const { sleeve, run } = scene;
    const twin = new SimulatedSleeve({ feed: FEED });
    const { result } = replay([twin.advance(sleeve.atSec)], {
      calibration: parseCalibration(twin.feed.calibration, 'of the simulated feed'),
      portionMl: null,
    });
    const withoutChipMl = result.live.intakeMl.at(-1)!;
    expect(withoutChipMl).toBeGreaterThan(8);
    // Rows come twice a second; at 30 mL/min that is 0.25 mL.
    expect(Math.abs(run.view.numbers.intakeMl! - withoutChipMl)).toBeLessThan(0.5);
  });

  it('brings the cue onto the pins: its color on the light, its note at the buzzer', async () => {
    const { sleeve, run } = scene;
    await run.run(0.15);
    const told = run.said.light.at(-1)!.light;
    expect(sleeve.light()).toEqual(told);
    expect(cueInLight(sleeve.light())).toBe('tilt-down');
    const { notes } = run.said.sound.findLast(({ notes }) => notes !== null)!;
    expect(sleeve.tones.at(-1)!.frequencyHz).toBeCloseTo(notes!.frequencyHz, 0);
  });

  it('forgets the cue when the program ends: the buzzer is silent, the light shows its quiet sign', async () => {
    const { sleeve, run, board } = scene;
    run.live.stop();
    board.close();
    await run.run(2.3);
    expect(sleeve.buzzerHz).toBe(0);
    const seen = new Set<string>();
    for (let i = 0; i < 25; i++) {
      await run.run(0.1);
      seen.add(JSON.stringify(sleeve.light()));
    }
    expect([...seen].sort()).toEqual(['{"red":0,"green":0,"blue":0}', '{"red":24,"green":24,"blue":24}']);
  });
});
