/** The serial link with the real serial library, on a pseudo-terminal. Waits for events only. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { filter, firstValueFrom } from 'rxjs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createSleeveBoard, SLEEVE_PINS } from '../../firmware-bridge/board.ts';
import { hello } from '../../firmware-bridge/links/hello.ts';
import { createSerialLink } from '../../firmware-bridge/links/serial-link.ts';
import { createScanner, scan } from '../../firmware-bridge/wire/index.ts';
import { createFakeSleeve } from '../support/fake-sleeve.ts';
import { noPseudoTerminal, openPseudoTerminal, type PseudoTerminal } from '../support/pseudo-terminal.ts';
import { streamOf } from '../support/wire.ts';

describe.skipIf(noPseudoTerminal !== null)(`on a pseudo-terminal ${noPseudoTerminal ?? ''}`, () => {
  let folder = '';
  let path = '';
  let cable: PseudoTerminal;
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'ebbline-pty-'));
    path = join(folder, 'sleeve');
    cable = await openPseudoTerminal(path);
  });
  afterEach(async () => {
    await cable.pull();
    rmSync(folder, { recursive: true });
  });

  /** Resolves once `count` samples have come; gives their sequence numbers. */
  function samplesFrom(link: ReturnType<typeof createSerialLink>, count: number): Promise<number[]> {
    const scanner = createScanner();
    const sequences: number[] = [];
    return new Promise((resolve) => {
      const listening = link.bytes$.subscribe((bytes) => {
        scan(scanner, bytes, { sample: (sample) => sequences.push(sample.sequence) });
        if (sequences.length < count) return;
        listening.unsubscribe();
        resolve(sequences);
      });
    });
  }

  it('greets a sleeve and gives every sample', async () => {
    const sleeve = createFakeSleeve();
    sleeve.samples = false;
    cable.onBytes((bytes) => {
      sleeve.receive(bytes);
      cable.send(sleeve.advance(0));
    });
    const link = createSerialLink(path);
    await link.open();
    expect(await firstValueFrom(hello(link, { timeoutMs: 240_000 }))).toEqual(sleeve.identity);
    const samples = samplesFrom(link, 3000);
    cable.send(streamOf(0, 3000));
    expect(await samples).toEqual(Array.from({ length: 3000 }, (_, i) => i));
    await link.close();
  });

  it('carries the board: handshake, and then the light', async () => {
    const sleeve = createFakeSleeve();
    sleeve.samples = false;
    let lit = (): void => {};
    cable.onBytes((bytes) => {
      sleeve.receive(bytes);
      const answers = sleeve.advance(0);
      if (answers.length > 0) cable.send(answers);
      if (sleeve.levels.get(SLEEVE_PINS.blue) === 60) lit();
    });
    const link = createSerialLink(path);
    const board = createSleeveBoard(link);
    await link.open();
    await board.ready;
    const light = new Promise<void>((resolve) => {
      lit = resolve;
    });
    board.setLight({ red: 0, green: 20, blue: 60 });
    await light;
    expect(sleeve.levels.get(SLEEVE_PINS.green)).toBe(20);
    board.close();
    await link.close();
  });

  it('is busy for a second program', async () => {
    const link = createSerialLink(path);
    await link.open();
    await expect(createSerialLink(path).open()).rejects.toMatchObject({ code: 'port-busy' });
    await link.close();
  });

  it('comes back after the far end was gone', async () => {
    const link = createSerialLink(path);
    await link.open();
    const lost = firstValueFrom(link.state$.pipe(filter(({ kind }) => kind === 'lost')));
    await cable.pull();
    expect(await lost).toMatchObject({ reason: expect.stringContaining('unplugged') });
    cable = await openPseudoTerminal(path);
    await firstValueFrom(link.state$.pipe(filter(({ kind }) => kind === 'open')));
    const samples = samplesFrom(link, 10);
    cable.send(streamOf(100, 10));
    expect((await samples)[0]).toBe(100);
    await link.close();
  });

  it('says that a path is no serial port', async () => {
    await expect(createSerialLink('/dev/null').open()).rejects.toMatchObject({ code: 'port-not-serial' });
    await expect(createSerialLink(join(folder, 'none')).open()).rejects.toMatchObject({
      code: 'port-unknown',
    });
  });
});
