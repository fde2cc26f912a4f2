/** Light and sound as bytes alone, on a way that loses some. */
import { Subject } from 'rxjs';
import { describe, expect, it } from 'vitest';
import { lightAndSound } from '../../firmware-bridge/links/light-and-sound.ts';
import type { LinkState } from '../../firmware-bridge/links/link.ts';
import { createHostParser, frameFirmata, readHostMessage } from '../../firmware-bridge/wire/index.ts';

const CUE = { red: 255, green: 96, blue: 16 };
const PINS = [3, 5, 6];

function losing() {
  const parser = createHostParser();
  const levels = [0, 0, 0];
  const heard = { loses: false, levels, beats: [] as number[] };
  const board = lightAndSound({
    bytes$: new Subject<Uint8Array>(),
    state$: new Subject<LinkState>(),
    write: (bytes) => {
      if (heard.loses) return;
      frameFirmata(parser, bytes, (whole) => {
        const message = readHostMessage(whole);
        if (message.kind === 'analog') levels[PINS.indexOf(message.pin)] = message.level;
        if (message.kind === 'heartbeat') heard.beats.push(message.guidanceOn);
      });
    },
  });
  return { board, heard };
}

describe('a change of the light that was lost', () => {
  it('is on the light with the next heartbeat', () => {
    const { board, heard } = losing();
    heard.loses = true;
    board.setLight(CUE);
    heard.loses = false;
    expect(heard.levels).toEqual([0, 0, 0]);
    board.heartbeat(true);
    expect(heard.levels).toEqual([255, 96, 16]);
    heard.loses = true;
    board.setLight({ red: 0, green: 0, blue: 0 });
    heard.loses = false;
    board.heartbeat(true);
    expect(heard.levels).toEqual([0, 0, 0]);
  });

  it('is not sent while nobody guides: then the sleeve shows that by itself', () => {
    const { board, heard } = losing();
    heard.loses = true;
    board.setLight(CUE);
    heard.loses = false;
    board.heartbeat(false);
    expect(heard.levels).toEqual([0, 0, 0]);
    expect(heard.beats).toEqual([0]);
  });
});
