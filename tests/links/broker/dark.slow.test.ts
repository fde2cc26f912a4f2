/** The relay itself turns the sleeve's light off, whichever process died. Virtual time, a real broker. */
import { filter, firstValueFrom } from 'rxjs';
import { describe, expect, it } from 'vitest';
import { GUIDANCE_LIMIT_MS } from '../../../firmware-bridge/links/broker/guide-watch.ts';
import { encodeMessage, MESSAGES } from '../../../firmware-bridge/wire/index.ts';
import { createTestBroker, noBroker } from '../../support/broker.ts';
import { startLink, startRelay } from '../../support/relayed.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { createVirtualClock } from '../../support/virtual-clock.ts';
import { streamOf } from '../../support/wire.ts';

const GUIDES = encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: 1 });
const LIGHT = Uint8Array.of(0xe3, 0x14, 0x01);

/** A guided feed in virtual time: some samples, a heartbeat each 500 ms; time advances only once everything has arrived. */
async function guided(wordAtTenth = 0) {
  const folder = temporaryFolder();
  const broker = await createTestBroker({ folder });
  await broker.start();
  const clock = createVirtualClock();
  const { port } = startRelay(broker, folder, {}, clock.scheduler);
  const there = startLink(broker, clock.scheduler);
  const lit: { atMs: number; on: boolean }[] = [];
  const lights: number[] = [];
  let sounds = 0;
  let said = 0;
  const write = port.write.bind(port);
  port.write = (bytes) => {
    const before = port.heard.length;
    write(bytes);
    for (const one of port.heard.slice(before)) {
      if (one.kind === 'heartbeat') lit.push({ atMs: clock.nowMs, on: one.guidanceOn === 1 });
      if (one.kind === 'analog') lights.push(clock.nowMs);
      if (one.kind === 'sound') sounds += 1;
    }
  };
  let sent = 0;
  /** A tenth of a second of samples; waits until all of them have arrived. */
  const tenth = async (guides: boolean, arrives = true): Promise<void> => {
    const bytes = streamOf(sent, 8);
    sent += 8;
    const upTo = there.length + bytes.length;
    port.send(bytes);
    await clock.advance(100);
    if (arrives) await expect.poll(() => there.length).toBeGreaterThanOrEqual(upTo);
    if (!guides || (sent / 8) % 5 !== wordAtTenth) return;
    there.link.write(GUIDES);
    said = clock.nowMs;
  };
  const opened = there.link.open();
  let isOpen = false;
  void opened.then(() => {
    isOpen = true;
  });
  // Connecting takes real time, so virtual time advances in small steps meanwhile.
  await expect
    .poll(async () => {
      await clock.advance(50);
      return isOpen;
    })
    .toBe(true);
  const isLit = (): boolean => lit.at(-1)?.on ?? false;
  there.link.write(LIGHT);
  await expect
    .poll(async () => {
      await tenth(true);
      return isLit();
    })
    .toBe(true);
  for (let i = 0; i < 20; i++) await tenth(true);
  const darkFrom = (fromMs: number): number =>
    lit.find(({ atMs, on }) => atMs >= fromMs && !on)!.atMs - fromMs;
  const soundsHeard = (): number => sounds;
  const saidAtMs = (): number => said;
  return { soundsHeard, saidAtMs, broker, clock, port, there, lit, lights, tenth, isLit, darkFrom };
}

describe.skipIf(noBroker !== null)(`the sleeve behind a relay ${noBroker ?? ''}`, () => {
  it('stays lit while it is guided', async () => {
    const { tenth, lit, clock } = await guided();
    const fromMs = clock.nowMs;
    for (let i = 0; i < 60; i++) await tenth(true);
    const beats = lit.filter(({ atMs }) => atMs > fromMs);
    expect(beats.length).toBeGreaterThanOrEqual(12);
    expect(beats.every(({ on }) => on)).toBe(true);
  });

  it.each([
    ['is killed', 'kill'],
    ['hangs', 'freeze'],
  ] as const)('is dark within 2 s when the broker %s', async (_, how) => {
    const { broker, clock, isLit, darkFrom, tenth } = await guided();
    await broker[how]();
    const fromMs = clock.nowMs;
    for (let i = 0; i < 20; i++) await tenth(true, false);
    expect(isLit()).toBe(false);
    expect(darkFrom(fromMs)).toBeLessThanOrEqual(2000);
    expect(darkFrom(fromMs)).toBeGreaterThan(500);
    if (how === 'freeze') broker.thaw();
  });

  // For each time of the last message between two of the relay's own heartbeats.
  it.each([0, 1, 2, 3, 4])(
    'is dark within 2 s when the broker dies just after a word, said at tenth %i',
    async (at) => {
      const { broker, clock, darkFrom, tenth, saidAtMs } = await guided(at);
      do await tenth(true);
      while (saidAtMs() !== clock.nowMs);
      await tenth(false);
      await broker.kill();
      const fromMs = clock.nowMs;
      for (let i = 0; i < 25; i++) await tenth(false, false);
      expect(darkFrom(fromMs)).toBeLessThanOrEqual(1800);
    },
  );

  it('is dark within 2 s when whoever guides falls silent, and at once when he says that he does not guide', async () => {
    const { clock, isLit, darkFrom, there, tenth } = await guided();
    const fromMs = clock.nowMs;
    await there.link.close();
    for (let i = 0; i < 20; i++) await tenth(false, false);
    expect(isLit()).toBe(false);
    expect(darkFrom(fromMs)).toBeLessThanOrEqual(2000);

    const second = await guided();
    second.there.link.write(encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: 0 }));
    await expect.poll(() => second.isLit()).toBe(false);
  });

  it('is not lit by words that waited, and gets its light back with the first new one', async () => {
    const { broker, isLit, lights, soundsHeard, tenth, there } = await guided();
    broker.freeze();
    for (let i = 0; i < 20; i++) await tenth(true, false);
    there.link.write(encodeMessage(MESSAGES.SOUND, { frequencyHz: 880, onMs: 90, offMs: 60, repeats: 2 }));
    for (let i = 0; i < 20; i++) await tenth(true, false);
    expect(isLit()).toBe(false);
    const before = lights.length;
    broker.thaw();
    // Until the sleeve's light is on again, no guide may set a color.
    await expect
      .poll(async () => {
        await tenth(true, false);
        return isLit();
      })
      .toBe(true);
    expect(lights.length).toBe(before + 1);
    expect(soundsHeard()).toBe(0);
    await expect
      .poll(async () => {
        await tenth(true, false);
        return there.states.at(-1)!.kind;
      })
      .toBe('open');
  });

  it('is open to its guide only while what he hears is new', async () => {
    const { broker, clock, there, tenth } = await guided();
    expect(there.states.at(-1)!.kind).toBe('open');
    broker.freeze();
    const lost = firstValueFrom(there.link.state$.pipe(filter(({ kind }) => kind === 'lost')));
    const fromMs = clock.nowMs;
    for (let i = 0; i < 20; i++) await tenth(true, false);
    await lost;
    expect(clock.nowMs - fromMs).toBeLessThanOrEqual(2000);
    broker.thaw();
  });

  it('ends guidance 0.2 s before the sleeve would by itself', () => {
    // firmware: HEARTBEAT_LIMIT of 2 s (PROTOCOL.md, HEARTBEAT)
    expect(GUIDANCE_LIMIT_MS).toBe(1800);
  });
});
