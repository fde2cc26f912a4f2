/** A cue reaches a real serial line after the sample that makes it and not before. The bench measures how long it takes. */
import { expect, it } from 'vitest';
import { noPseudoTerminal } from '../support/pseudo-terminal.ts';
import { cueLatencies, prepareFeeds } from './cue-latency.ts';

it.skipIf(noPseudoTerminal !== null)(
  `light and sound of a tilt-down reach the line ${noPseudoTerminal ?? ''}`,
  async () => {
    const { lightMs, soundMs, echoMs, early, missing } = await cueLatencies({
      feeds: prepareFeeds(1),
      rounds: 2,
      echoes: 40,
    });
    expect({ lights: lightMs.length, sounds: soundMs.length, early, missing }).toEqual({
      lights: 2,
      sounds: 2,
      early: 0,
      missing: 0,
    });
    expect(echoMs).toHaveLength(40);
  },
);
