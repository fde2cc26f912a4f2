/** `ebbline work` and `ebbline relay` as processes of their own before a real broker: each trouble is said plainly, and a sleeve that is guided stays so. */
import { chmodSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { openStore } from '../../src/store/open-store.ts';
import { createTestBroker, noBroker, PASSWORD, signAnew, type TestBroker, USER } from '../support/broker.ts';
import { exampleCalibration } from '../support/calibrations.ts';
import { type Running, requireBuild, startCommand } from '../support/command.ts';
import { createFakeSleeve } from '../support/fake-sleeve.ts';
import { noPseudoTerminal, openPseudoTerminal } from '../support/pseudo-terminal.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

beforeAll(requireBuild);

const SITE = 'elm';
const STEP_MS = 100;

/** A sleeve that sends on a cable by the clock, and its `ebbline relay`. */
async function cot(broker: TestBroker, sleeveNumber: number, options: readonly string[], site = SITE) {
  const data = temporaryFolder();
  const path = join(data, 'sleeve');
  const cable = await openPseudoTerminal(path);
  const sleeve = createFakeSleeve();
  sleeve.identity = { ...sleeve.identity, sleeveNumber };
  let sec = 0;
  const sending = setInterval(() => {
    sec += STEP_MS / 1000;
    cable.send(sleeve.advance(sec));
  }, STEP_MS);
  let isPulled = false;
  cable.onBytes((bytes) => {
    sleeve.receive(bytes);
    if (!isPulled) cable.send(sleeve.advance(sec));
  });
  onTestFinished(() => {
    isPulled = true;
    clearInterval(sending);
    return cable.pull();
  });
  const place = ['--site', site, '--room', 'blue'];
  const relay = startCommand(['relay', '--port', path, '--broker', broker.url, ...place, ...options], {
    data,
  });
  const beats = () => sleeve.heard.flatMap((one) => (one.kind === 'heartbeat' ? [one.guidanceOn] : []));
  return { sleeve, relay, beats, isGuided: () => beats().at(-1) === 1 };
}

/** `ebbline work` on a folder in which sleeve 1 is calibrated. */
async function worker(broker: TestBroker, options: readonly string[]) {
  const data = temporaryFolder();
  const store = openStore(join(data, 'feeds'), { recording: true });
  store.keepCalibration('1', { ...exampleCalibration(), sleeveId: '1' });
  store.close();
  const where = ['--broker', broker.url, '--database', join(data, 'feeds'), '--site', SITE];
  const running: Running = startCommand(['work', ...where, '--health-port', '0', ...options], { data });
  const [, url] = await running.says(/(http:\S+)\/health,/);
  const health = async () => {
    const answer = await fetch(`${url}/health`);
    return { status: answer.status, ...((await answer.json()) as { troubles: string[]; sleeves: number }) };
  };
  return { running, health };
}

/** A password file, and the options that name it. */
function signIn(more: readonly string[] = []): string[] {
  const file = join(temporaryFolder(), 'password');
  writeFileSync(file, `${PASSWORD}\n`);
  return ['--broker-user', USER, '--broker-password-file', file, ...more];
}

const missing = noBroker ?? noPseudoTerminal;

describe.skipIf(missing !== null)(`a sleeve that is guided ${missing ?? ''}`, () => {
  it('stays so beside a number twice, an unknown number, and those whom the broker refuses', async () => {
    const folder = temporaryFolder();
    const acl = join(folder, 'acl');
    writeFileSync(acl, `user ${USER}\ntopic readwrite ebbline/1/${SITE}/#\n`);
    chmodSync(acl, 0o644);
    const broker = await createTestBroker({ folder, password: true, lines: [`acl_file ${acl}`] });
    await broker.start();
    const guide = await worker(broker, signIn());
    const first = await cot(broker, 1, signIn());
    await expect.poll(first.isGuided).toBe(true);
    const before = first.beats().length;

    const twin = await cot(broker, 1, signIn());
    await twin.relay.complains(/Another relay already passes on a sleeve of the number 1 .*another number/);
    const stranger = await cot(broker, 12, signIn());
    await guide.running.complains(
      /No calibration of sleeve 12 is kept here, so it is not guided; all others are/,
    );
    const elsewhere = await cot(broker, 2, signIn(), 'oak');
    await elsewhere.relay.complains(
      /does not allow this user .*ebbline\/1\/SITE\/ROOM\/#.* kept on this computer/,
    );
    const guessed = join(folder, 'guessed');
    writeFileSync(guessed, 'guessed\n');
    const wrong = await worker(broker, ['--broker-user', USER, '--broker-password-file', guessed]);
    await wrong.running.complains(/does not take this user and password.*It is tried again/);
    expect(await wrong.health()).toMatchObject({
      status: 503,
      troubles: [expect.stringMatching(/does not take this user and password/)],
    });

    expect([twin, stranger, elsewhere].map(({ isGuided }) => isGuided())).toEqual([false, false, false]);
    expect(await guide.health()).toMatchObject({ status: 200, troubles: [], sleeves: 1 });
    expect(new Set(first.beats().slice(before))).toEqual(new Set([1]));
  });

  it('is dark while the broker’s certificate has expired, which relay and worker say, and guided again with a new one', async () => {
    const folder = temporaryFolder();
    const broker = await createTestBroker({ folder, tls: 'good' });
    const trust = ['--broker-ca', join(folder, 'ca.pem')];
    await broker.start();
    const guide = await worker(broker, trust);
    const first = await cot(broker, 1, trust);
    await expect.poll(first.isGuided).toBe(true);

    await broker.kill();
    signAnew(folder, -1);
    await broker.start();
    await first.relay.complains(
      /certificate of the broker mqtts:\/\/localhost:\d+ has expired.*Renew it.*kept on this computer/,
    );
    await guide.running.complains(
      /certificate of the broker mqtts:\/\/localhost:\d+ has expired.*It is tried again/,
    );
    expect(await guide.health()).toMatchObject({
      status: 503,
      troubles: [expect.stringMatching(/has expired/)],
    });
    await expect.poll(first.isGuided).toBe(false);

    await broker.kill();
    signAnew(folder, 1);
    await broker.start();
    await expect.poll(first.isGuided).toBe(true);
    expect(await guide.health()).toMatchObject({ status: 200, troubles: [], sleeves: 1 });
  });
});
