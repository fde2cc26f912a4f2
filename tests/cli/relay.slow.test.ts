/** `ebbline relay` as a process of its own, on a pseudo-terminal, before a real broker: killed, started anew, and `ebbline start` behind it. */
import { existsSync, mkdirSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { createTestBroker, noBroker } from '../support/broker.ts';
import { exampleCalibration } from '../support/calibrations.ts';
import { requireBuild, startCommand } from '../support/command.ts';
import { createFakeSleeve } from '../support/fake-sleeve.ts';
import { noPseudoTerminal, openPseudoTerminal } from '../support/pseudo-terminal.ts';
import { seededRandom } from '../support/random.ts';
import { PLACE, startLink } from '../support/relayed.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { joined, streamOf, toHex } from '../support/wire.ts';

beforeAll(requireBuild);

const PLACED = ['--site', PLACE.site, '--room', PLACE.room];

async function cot() {
  const folder = temporaryFolder();
  const broker = await createTestBroker({ folder });
  await broker.start();
  const path = join(folder, 'sleeve');
  const cable = await openPseudoTerminal(path);
  onTestFinished(() => cable.pull());
  const sleeve = createFakeSleeve();
  sleeve.samples = false;
  /** Everything that the sleeve ever sent. */
  const sent: Uint8Array[] = [];
  const send = (bytes: Uint8Array): void => {
    sent.push(bytes);
    cable.send(bytes);
  };
  cable.onBytes((bytes) => {
    sleeve.receive(bytes);
    const answers = sleeve.advance(0);
    if (answers.length > 0) send(answers);
  });
  const data = join(folder, 'data');
  mkdirSync(data);
  const log = join(data, 'relay', PLACE.site, PLACE.room, '4711');
  const kept = (): number =>
    existsSync(log)
      ? readdirSync(log)
          .filter((name) => name.endsWith('.bytes'))
          .reduce((sum, name) => sum + statSync(join(log, name)).size, 0)
      : 0;
  const relay = async () => {
    const running = startCommand(['relay', '--port', path, '--broker', broker.url, ...PLACED], { data });
    return running;
  };
  return { folder, broker, sleeve, sent, send, data, kept, relay };
}

const noLine = noBroker ?? noPseudoTerminal;

describe.skipIf(noLine !== null)(`ebbline relay ${noLine ?? ''}`, () => {
  it.each([7, 8])(
    'is killed while the broker is away, and what it kept comes whole and in order, seed %i',
    async (seed) => {
      const random = seededRandom(seed);
      const { broker, sent, send, kept, relay } = await cot();
      let running = await relay();
      await running.complains(/Sleeve 4711 is passed on/);
      const length = (): number => sent.reduce((sum, { length }) => sum + length, 0);
      // Compared anew each time: a relay that waits for a second asks again, and the sleeve answers again.
      const isKept = (): boolean => kept() === length();
      await expect.poll(isKept).toBe(true);
      const there = startLink(broker);
      await there.link.open();
      const before = length();
      let from = 0;
      for (let kill = 0; kill < 3; kill++) {
        const isAway = random() < 0.7;
        if (isAway) await broker.kill();
        const count = 50 + Math.floor(random() * 400);
        send(streamOf(from, count));
        from += count;
        // The relay stores what it has read soon after; it need not store what it did not read before the kill.
        await expect.poll(isKept).toBe(true);
        running.child.kill('SIGKILL');
        await running.ended;
        running = await relay();
        // It has asked the sleeve for its name, and kept the answer.
        const asked = length();
        await expect.poll(length).toBeGreaterThan(asked);
        await expect.poll(isKept).toBe(true);
        if (isAway) await broker.start();
      }
      await expect.poll(() => there.length === length() - before).toBe(true);
      expect(toHex(there.bytes)).toBe(toHex(joined(sent).subarray(before)));
      running.child.kill('SIGTERM');
      expect((await running.ended).code).toBe(0);
      await expect
        .poll(() => there.states.at(-1))
        .toMatchObject({
          kind: 'lost',
          reason: expect.stringContaining('relay of sleeve 4711 is switched off'),
        });
    },
  );

  it('gives start a sleeve as a port would: its name, its calibration, its light', async () => {
    const { folder, broker, sleeve, relay } = await cot();
    const running = await relay();
    await running.complains(/Sleeve 4711 is passed on/);
    const calibration = join(folder, 'calibration.json');
    writeFileSync(calibration, JSON.stringify(exampleCalibration()));
    const data = join(folder, 'guide');
    const where = ['--broker', broker.url, ...PLACED, '--page-port', '0', '--quiet'];
    const guide = startCommand(['start', ...where, '--sleeve-number', '4711', '--calibration', calibration], {
      data,
    });
    await guide.says(/Ebbline watches the sleeve on mqtt:\/\/localhost:\d+, sleeve 4711/);
    await expect.poll(() => sleeve.heard.some((one) => one.kind === 'pin-mode')).toBe(true);
    guide.child.kill('SIGTERM');
    expect((await guide.ended).code).toBe(0);

    const unknown = await startCommand(['start', ...where, '--sleeve-number', '12'], { data }).ended;
    expect(unknown.code).toBe(2);
    expect(unknown.stderr).toMatch(/No relay passes on a sleeve of the number 12 .* Sleeves there: 4711\./);
  });

  it('refuses what was meant otherwise, before it touches anything', async () => {
    const data = temporaryFolder();
    const said = async (...args: string[]): Promise<string> => {
      const { code, stderr } = await startCommand(args, { data }).ended;
      expect(code).toBe(2);
      return stderr;
    };
    const port = ['relay', '--port', '/dev/ttyNone'];
    expect(await said(...port, '--broker', 'mqtt://10.0.0.5', ...PLACED)).toMatch(
      /everybody on the network could read/,
    );
    expect(await said(...port, '--broker', 'mqtts://localhost', '--site', 'a/b', '--room', 'c')).toMatch(
      /"a\/b" cannot be the name of a site/,
    );
    expect(await said(...port, '--broker', 'mqtts://localhost', '--site', 'a')).toMatch(
      /--room is needed too/,
    );
    expect(await said('start', '--port', '/dev/ttyNone', '--broker', 'mqtts://localhost')).toMatch(
      /Name one of the two/,
    );
    expect(await said('start', '--sleeve-number', '3')).toMatch(/no --broker was given/);
    expect(await said('start', '--broker', 'mqtts://localhost', ...PLACED)).toMatch(
      /--sleeve-number is needed too/,
    );
    expect(readdirSync(data)).toEqual([]);
  });
});
