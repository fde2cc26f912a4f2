import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { HostBytes } from '../../src/simulation/host-bytes.ts';

function heard(...chunks: number[][]) {
  const log: string[] = [];
  const host = new HostBytes({
    sysEx: (frame) => log.push(`sysex ${Buffer.from(frame).toString('hex')}`),
    short: (command, first, second) => log.push(`short ${command.toString(16)} ${first} ${second}`),
    versionAsked: () => log.push('version'),
    systemReset: () => log.push('reset'),
  });
  for (const chunk of chunks) host.push(Uint8Array.from(chunk));
  return { log, host };
}

describe('what the host says', () => {
  it('is cut into messages, in any split', () => {
    const line = [0xf9, 0xf0, 0x79, 0xf7, 0xf4, 3, 3, 0xe3, 127, 1, 0xd0, 1, 0xff];
    const whole = heard(line).log;
    expect(whole).toEqual([
      'version',
      'sysex f079f7',
      'short f4 3 3',
      'short e3 127 1',
      'short d0 1 0',
      'reset',
    ]);
    expect(heard(...line.map((byte) => [byte])).log).toEqual(whole);
  });

  it('loses a broken message and goes on with the next', () => {
    expect(heard([0xf0, 0x04, 1, 2, 0xf9]).log).toEqual(['version']);
    expect(heard([0xe3, 5, 0xf0, 0x79, 0xf7]).log).toEqual(['sysex f079f7']);
    expect(heard([1, 2, 3, 0xf7, 0xf9]).log).toEqual(['version']);
    expect(heard([0xf0, 0xf7]).log).toEqual([]);
  });

  it('drops an overlong SysEx without keeping it, then hears the next', () => {
    const { log, host } = heard([0xf0, 0x71, ...Array.from({ length: 100_000 }, () => 1), 0xf7], [0xf9]);
    expect(log).toEqual(['version']);
    expect(host.dropped).toBeGreaterThan(99_000);
  });

  it('never throws, whatever comes and however split', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), fc.nat(300), (bytes, cut) => {
        const whole = heard([...bytes]);
        const split = heard([...bytes.subarray(0, cut)], [...bytes.subarray(cut)]);
        expect(split.log).toEqual(whole.log);
        expect(split.host.dropped).toBe(whole.host.dropped);
      }),
      { seed: 1, numRuns: 300 },
    );
  });
});
