/** While a bottle must not be given, the sleeve shows and sounds it; afterwards it shows its feed again. */
import { describe, expect, it } from 'vitest';
import { stoppedOutputs } from '../../../src/app/work/stopped-outputs.ts';
import type { Light, Notes } from '../../../src/feed/live/light-language.ts';
import { cueInLight, STOP_NOTES } from '../../../src/feed/live/light-language.ts';
import { encodeStop, readStop } from '../../../src/ward/board/stop-message.ts';
import { createVirtualClock } from '../../support/virtual-clock.ts';

const GLOW: Light = { red: 6, green: 4, blue: 1 };

function scene() {
  const clock = createVirtualClock();
  const lights: [atMs: number, Light][] = [];
  const sounds: [atMs: number, Notes | null][] = [];
  const beats: boolean[] = [];
  let untilMs = Number.NEGATIVE_INFINITY;
  const outputs = stoppedOutputs(
    {
      setLight: (light) => lights.push([clock.nowMs, light]),
      sound: (notes) => sounds.push([clock.nowMs, notes]),
      heartbeat: (on) => beats.push(on),
    },
    () => untilMs,
    clock.scheduler,
  );
  return { clock, lights, sounds, beats, outputs, stop: (forMs: number) => (untilMs = clock.nowMs + forMs) };
}

describe('a sleeve whose bottle must not be given', () => {
  it('glows red, no oftener than once a second, and sounds every ten', async () => {
    const { clock, lights, sounds, outputs, stop } = scene();
    outputs.setLight(GLOW);
    stop(25_000);
    await clock.advance(25_000);
    const red = { red: 255, green: 0, blue: 0 };
    const glows = lights.filter(([, light]) => light.red === 255);
    expect(glows.every(([, light]) => JSON.stringify(light) === JSON.stringify(red))).toBe(true);
    expect(glows.length).toBe(21);
    const apart = glows.slice(1).map(([atMs], i) => atMs - glows[i]![0]);
    expect(Math.min(...apart)).toBeGreaterThanOrEqual(1000);
    expect(sounds.map(([, notes]) => notes)).toEqual([STOP_NOTES, STOP_NOTES, STOP_NOTES, null]);
    expect(sounds[1]![0] - sounds[0]![0]).toBe(10_000);
    // The light uses the rhythm of "lower the bottle": milk must not flow.
    expect(cueInLight(glows[0]![1])).toBe('tilt-down');
  });

  it('shows nothing of its feed meanwhile, and all of it again afterwards; it is guided throughout', async () => {
    const { clock, lights, sounds, beats, outputs, stop } = scene();
    stop(5000);
    await clock.advance(1000);
    outputs.setLight(GLOW);
    outputs.sound(STOP_NOTES);
    outputs.heartbeat(true);
    expect(lights.map(([, light]) => light)).not.toContain(GLOW);
    expect(sounds).toHaveLength(1);
    expect(beats).toEqual([true]);
    await clock.advance(5000);
    expect(lights.at(-1)![1]).toEqual(GLOW);
    outputs.setLight({ red: 0, green: 0, blue: 0 });
    expect(lights.at(-1)![1]).toEqual({ red: 0, green: 0, blue: 0 });
    outputs.close();
    stop(5000);
    await clock.advance(1000);
    expect(sounds).toHaveLength(2);
  });
});

it('what is told of it is read back, and nothing else is', () => {
  for (const sec of [0, 60]) expect(readStop(encodeStop(sec))).toBe(sec);
  for (const text of [
    '',
    'stop',
    '{}',
    '{"version":2,"forSec":1}',
    '{"version":1,"forSec":-1}',
    '{"version":1,"forSec":1e9}',
  ])
    expect(readStop(new TextEncoder().encode(text))).toBeNull();
});
