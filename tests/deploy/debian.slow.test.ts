/**
 * A house set up by the very commands of deploy/README.md for those without containers: a real broker, PostgreSQL, two workers, a relay with a simulated
 * sleeve behind a pseudo-terminal, the board over TLS, people who sign in. Then what may be wrong with passwords, certificates and labels.
 */
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { createSimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import { cueInLight } from '../../src/feed/live/light-language.ts';
import { SimulatedSleeve } from '../../src/simulation/sleeve-model.ts';
import type { BoardCot, BoardView } from '../../src/ward/board/board-view.ts';
import { babyEntry } from '../support/babies.ts';
import { noBroker } from '../support/broker.ts';
import { requireBuild, runCommand, startCommand } from '../support/command.ts';
import { freePort } from '../support/free-port.ts';
import { createTestPostgres, DATABASE_PASSWORD, noPostgres } from '../support/postgres.ts';
import { noPseudoTerminal, openPseudoTerminal } from '../support/pseudo-terminal.ts';
import { localProvider, Visitor } from '../support/sign-in.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import {
  commandsUnder,
  edit,
  enabledUnits,
  type House,
  makeScratch,
  PROJECT,
  runCommands,
  startUnit,
  type Unit,
  wrongClock,
} from '../support/ward/debian.ts';

const missing = noBroker ?? noPostgres ?? noPseudoTerminal;
const PATIENT = { timeout: 240_000, interval: 250 };
const SLEEVE = 7;
const ACCOUNTS = { rosa: ['hold'], lena: ['lead'], mia: ['parent'], theo: ['researcher'], otto: [] };

/** The commands of the README, with ports and names of this computer. */
async function setUp() {
  const scratch = temporaryFolder();
  makeScratch(scratch);
  const postgres = await createTestPostgres({ folder: join(temporaryFolder(), '.') });
  await postgres.start();
  // As on Debian: there is an administrator of that name and no other role yet.
  postgres.sql('postgres', `CREATE ROLE postgres SUPERUSER LOGIN PASSWORD '${DATABASE_PASSWORD}'`);
  postgres.sql('postgres', 'DROP ROLE ebbline');
  const [brokerPort, boardPort, first, second, boardHealth] = await Promise.all(
    Array.from({ length: 5 }, () => freePort()),
  );
  const board = `https://localhost:${boardPort}`;
  const cable = join(scratch, 'sleeve');
  const house: House = {
    scratch,
    changes: [
      ['PORTS=/dev/ttyUSB0 /dev/ttyUSB1', `PORTS=${cable}`],
      ['mqtts://broker.example', `mqtts://localhost:${brokerPort}`],
      ['https://board.example', board],
      ['@localhost/ebbline', `@127.0.0.1:${postgres.port}/ebbline`],
      ['ebbline-work@4150 ebbline-work@4151', `ebbline-work@${first} ebbline-work@${second}`],
      ['--health-port=4160', `--health-port=${boardHealth}`],
      ['--page-port=443', `--page-port=${boardPort} --listen=127.0.0.1`],
    ],
    env: {
      PGHOST: '127.0.0.1',
      PGPORT: String(postgres.port),
      PGUSER: 'postgres',
      PGPASSWORD: DATABASE_PASSWORD,
    },
  };
  const [atTheServer, byTheCots] = commandsUnder('On Debian');
  runCommands(atTheServer!, house);
  mkdirSync(join(scratch, 'root'), { recursive: true });
  cpSync(join(scratch, 'root/ebbline/relay'), join(scratch, 'root/relay'), { recursive: true });
  runCommands(byTheCots!, house);
  const broker = join(scratch, 'etc/mosquitto/conf.d/ebbline.conf');
  edit(broker, (text) => text.replace('listener 8883', `listener ${brokerPort} 127.0.0.1`));
  const secret = readFileSync(join(scratch, 'etc/ebbline/board/sign-in-secret'), 'utf8').trim();
  const provider = await localProvider(ACCOUNTS, { board, secret });
  onTestFinished(() => provider.close());
  const env = join(scratch, 'etc/ebbline/board.env');
  edit(env, (text) => text.replace('https://sign-in.example', provider.issuer));
  const database = [
    ...['--database', `postgres://ebbline@127.0.0.1:${postgres.port}/ebbline`, '--site', 'home'],
    ...['--database-password-file', join(scratch, 'root/ebbline/database/database-password')],
  ];
  return {
    house,
    postgres,
    board,
    cable,
    broker,
    database,
    boardHealth: boardHealth!,
    healths: [first!, second!],
  };
}

async function startBroker(file: string): Promise<ChildProcess> {
  const env = { ...process.env, PATH: `${process.env.PATH}:/usr/sbin` };
  const child = spawn('mosquitto', ['-c', file], { env, stdio: ['ignore', 'ignore', 'pipe'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  let log = '';
  child.stderr!.setEncoding('utf8').on('data', (text: string) => {
    log += text;
  });
  await expect.poll(() => log).toMatch(/running/);
  return child;
}

const started = (
  name: string,
  house: House,
  more: readonly string[] = [],
  surroundings: Record<string, string> = {},
): Unit => {
  const unit = startUnit(name, house, more, surroundings);
  onTestFinished(() => unit.stop('SIGKILL'));
  return unit;
};

/** A sleeve at the end of a cable, at the pace of the clock, in the hands of a caregiver who looks at its light. */
async function sleeveOn(path: string, sleeveNumber = SLEEVE) {
  const sleeve = new SimulatedSleeve({
    // A busy computer takes a while to take the sleeve up.
    feed: { scenario: 'hurried-start', seed: 1, follows: true, overrides: { caregiver: { standSec: 60 } } },
    sleeveNumber,
    perceive: (light) => cueInLight(light),
  });
  const cable = await openPseudoTerminal(path);
  onTestFinished(() => cable.pull());
  const link = createSimulatedLink(sleeve);
  link.bytes$.subscribe((bytes) => cable.send(bytes));
  cable.onBytes((bytes) => link.write(bytes));
  onTestFinished(() => link.close());
  // Nothing may be sent into a cable whose near end is closed.
  return { sleeve, begin: () => link.open(), end: () => link.close() };
}

describe.skipIf(missing !== null)(`a house set up by the README's commands ${missing ?? ''}`, () => {
  beforeAll(requireBuild);

  it('feeds a child from label to board; refuses wrong passwords and expired certificates; stops nobody else', async () => {
    const { house, postgres, board, cable, broker, database, boardHealth, healths } = await setUp();
    const { scratch } = house;
    const data = temporaryFolder();
    let mosquitto = await startBroker(broker);
    const units = new Map(enabledUnits(house).map((name) => [name, started(name, house)]));
    expect([...units.keys()]).toEqual([
      ...healths.map((port) => `ebbline-work@${port}`),
      'ebbline-board',
      'ebbline-relay',
    ]);
    const boardUnit = units.get('ebbline-board')!;
    await expect.poll(() => boardUnit.said, PATIENT).toMatch(/Page for the tablet: +https:\/\/localhost/);

    // Children are entered on the page, and arranged in a terminal.
    const page = startCommand(['open', ...database, '--page-port', '0'], { data });
    const [, url] = await page.says(/(http:\/\/127\.0\.0\.1:\d+\/)/);
    for (const name of ['Ilo', 'Uma']) {
      const added = await fetch(`${url}babies`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ ...babyEntry(), name }),
      });
      expect(added.status).toBe(200);
    }
    page.child.kill('SIGTERM');
    const run = async (...args: string[]) => {
      const { code, stdout, stderr } = await runCommand([...args, ...database], { data });
      expect(`${code} ${stderr}`).toBe('0 ');
      return stdout;
    };
    await run('ward', 'arrive', 'Ilo', '--cot', 'A1');
    await run('ward', 'arrive', 'Uma', '--cot', 'A2');
    await run(
      'labels',
      '--out',
      join(data, 'labels.pdf'),
      '--child',
      'Ilo',
      'Uma',
      '--bottles',
      '1',
      '--sleeve',
      `${SLEEVE}`,
    );
    const { sleeve, begin, end } = await sleeveOn(cable);
    const calibration = join(data, 'calibration.json');
    writeFileSync(calibration, JSON.stringify({ ...sleeve.feed.calibration, sleeveId: `${SLEEVE}` }));
    await run('sleeve', 'calibrations', '--keep', calibration);
    await run('ward', 'consent', 'Ilo', '--person', 'mia');
    const codes = new Map(
      postgres
        .sql(
          'ebbline',
          "SELECT kind || coalesce(' ' || (SELECT cot FROM stay WHERE stay.baby_id = label.baby_id), ''), code FROM label",
        )
        .map((line) => line.split('|') as [string, string]),
    );

    // Without signing in nothing is shown; afterwards only what the role may see.
    const ca = readFileSync(join(scratch, 'root/ebbline/authority/ca.pem'), 'utf8');
    const [rosa, mia, otto] = [new Visitor(ca), new Visitor(ca), new Visitor(ca)];
    expect((await rosa.go(`${board}/children`)).status).toBe(401);
    expect((await rosa.signIn(board, 'rosa')).url).toBe(`${board}/`);
    expect((await rosa.go(`${board}/trail`)).status).toBe(403);
    expect((await otto.signIn(board, 'otto')).text).toContain('sign-in-no-role');
    await mia.signIn(board, 'mia');
    expect((await mia.go(`${board}/handover`)).status).toBe(403);
    expect(
      JSON.parse((await mia.go(`${board}/own`)).text).children.map(({ name }: { name: string }) => name),
    ).toEqual(['Ilo']);

    const theo = new Visitor(ca);
    await theo.signIn(board, 'theo');
    expect(JSON.parse((await theo.go(`${board}/studies`)).text)).toEqual({ studies: [], setAside: [] });
    for (const path of ['board', 'children', 'handover', 'trail', 'own'])
      expect([path, (await theo.go(`${board}/${path}`)).status]).toEqual([path, 403]);
    for (const other of [rosa, mia]) expect((await other.go(`${board}/studies`)).status).toBe(403);

    // Labels are scanned: of the right child, and of the wrong one.
    const fill = {
      bottle: codes.get('bottle'),
      child: codes.get('child A1'),
      ml: 100,
      from: null,
      kind: 'formula',
    };
    expect((await rosa.post(`${board}/fill`, fill)).status).toBe(200);
    const bind = async (...names: string[]) =>
      JSON.parse((await rosa.post(`${board}/bind`, { codes: names.map((name) => codes.get(name)) })).text);
    expect(await bind('child A2', 'bottle')).toMatchObject({ stop: 'wrong-child' });
    expect(await bind('child A1', 'bottle', 'sleeve')).toMatchObject({
      state: 'bound',
      cot: 'A1',
      sleeve: SLEEVE,
    });

    // A feed runs, and the board shows it. The relay's clock is seven minutes slow.
    await units.get('ebbline-relay')!.stop();
    units.set('ebbline-relay', started('ebbline-relay', house, [], wrongClock(data, -7 * 60_000)));
    await begin();
    const views: BoardView[] = [];
    rosa
      .watch<BoardView>(`${board}/board`, (now) => {
        views.push(now);
        return false;
      })
      .catch(() => {});
    const isOf = (number: number) => (one: BoardCot) => one.sleeve === number;
    const cotOf = (number: number) => views.at(-1)?.cots.find(isOf(number)) ?? null;
    // In any view from the present one on: what is shown for a few seconds only may be gone when a busy computer looks.
    const shown = (is: Partial<BoardCot>) => {
      const from = Math.max(0, views.length - 1);
      const cots = () => views.slice(from).flatMap((view) => view.cots.filter(isOf(SLEEVE)));
      return expect.poll(cots, PATIENT).toContainEqual(expect.objectContaining(is));
    };
    await shown({ cot: 'A1', showing: 'waiting' });
    await shown({ cot: 'A1', feedMin: expect.any(Number) });
    await shown({ need: 'cue' });
    await expect.poll(() => sleeve.hasHeartbeat && sleeve.guidanceOn).toBe(true);

    // A second relay with a sleeve of the same number, and a sleeve that nobody knows: both are said, and neither is lit.
    const [twin, stranger] = [await sleeveOn(`${cable}-2`), await sleeveOn(`${cable}-3`, 99)];
    const others = ['-2', '-3'].map((ending) =>
      started('ebbline-relay', house, [], {
        PORTS: `${cable}${ending}`,
        EBBLINE_DATA: join(data, `relay${ending}`),
        ...wrongClock(data, 7 * 60_000),
      }),
    );
    await twin.begin();
    await stranger.begin();
    await expect
      .poll(() => others[0]!.said, PATIENT)
      .toMatch(/Another relay already passes on a sleeve of the number 7/);
    const workersSay = () => healths.map((port) => units.get(`ebbline-work@${port}`)!.said).join('');
    await expect.poll(workersSay, PATIENT).toMatch(/Sleeve 99 .*not guided; all others are/);
    await expect
      .poll(() => cotOf(99), PATIENT)
      .toMatchObject({ need: 'look', showing: 'no-guidance', cause: 'sleeve-unknown' });
    expect([twin, stranger].map(({ sleeve: { guidanceOn } }) => guidanceOn)).toEqual([false, false]);
    await expect.poll(() => sleeve.hasHeartbeat && sleeve.guidanceOn).toBe(true);
    await twin.end();
    await stranger.end();
    for (const one of others) await one.stop();

    // How all are, for whoever watches them.
    const health = async (port: number) => (await fetch(`http://127.0.0.1:${port}/health`)).json();
    const metrics = async (port: number) => (await fetch(`http://127.0.0.1:${port}/metrics`)).text();
    const workers = (await Promise.all(healths.map(health))) as { isWell: boolean; feeds: number }[];
    expect(workers.map(({ isWell }) => isWell)).toEqual([true, true]);
    expect(workers.reduce((sum, { feeds }) => sum + feeds, 0)).toBe(1);
    // The unknown sleeve was unplugged a moment ago.
    await expect
      .poll(() => health(boardHealth), PATIENT)
      .toEqual({ isWell: true, troubles: [], sleeves: 1, feeds: 1 });
    for (const port of [...healths, boardHealth]) expect(await metrics(port)).toMatch(/# EOF\n?$/);
    expect(await metrics(boardHealth)).toMatch(/^ebbline_certificate_left_seconds 3\d{7}(\.\d+)?$/m);

    // Wrong passwords, tried while the others go on.
    const wrong = join(data, 'wrong-password');
    writeFileSync(wrong, 'guessed\n');
    const spare = [
      ['--health-port', String(await freePort())],
      ['--health-port', String(await freePort())],
    ].flat();
    const strangerAtBroker = started(`ebbline-work@${spare[1]}`, house, ['--broker-password-file', wrong]);
    await expect
      .poll(() => strangerAtBroker.said, PATIENT)
      .toMatch(/The broker mqtts:\/\/localhost:\d+ does not take this user and password\./);
    await strangerAtBroker.stop('SIGKILL');
    const strangerAtStore = started(`ebbline-work@${spare[3]}`, house, ['--database-password-file', wrong]);
    await expect
      .poll(() => strangerAtStore.said, PATIENT)
      .toMatch(/The database postgres:\/\/127\.0\.0\.1:\d+\/ebbline refused the user or the password\./);
    await strangerAtStore.stop('SIGKILL');
    const elsewhere = ['--page-port', '0', ...spare.slice(0, 2)];
    const other = started('ebbline-board', house, [...elsewhere, '--database-password-file', wrong]);
    expect(await other.ended).toBe(2);
    expect(other.said).toMatch(/refused the user or the password\. Check the user/);

    // Expired certificates: the board's own is refused at its start, the broker's by all who come to it.
    const expired = join(data, 'expired');
    cpSync(join(scratch, 'root/ebbline'), expired, { recursive: true });
    const renew = (folder: string, days: string) =>
      execFileSync('sh', [join(PROJECT, 'deploy/renew.sh'), folder], {
        env: { ...process.env, DAYS: days },
        stdio: 'pipe',
      });
    renew(expired, '-1');
    const dated = started('ebbline-board', house, [
      ...[...elsewhere, '--certificate', join(expired, 'board/server.pem')],
      ...['--key', join(expired, 'board/server.key')],
    ]);
    expect(await dated.ended).toBe(2);
    expect(dated.said).toMatch(
      /^ebbline: The certificate in \S+server\.pem has expired on .*GMT\. Renew it: deploy\/renew\.sh/,
    );
    const certificate = join(scratch, 'etc/mosquitto/ebbline/server.pem');
    const install = (from: string) =>
      edit(certificate, () => readFileSync(join(from, 'broker/server.pem'), 'utf8'));
    install(expired);
    mosquitto.kill('SIGKILL');
    await once(mosquitto, 'exit');
    mosquitto = await startBroker(broker);
    for (const unit of units.values())
      await expect
        .poll(() => unit.said, PATIENT)
        .toMatch(/The certificate of the broker mqtts:\/\/localhost:\d+ has expired\./);
    await expect.poll(() => sleeve.hasHeartbeat && sleeve.guidanceOn, PATIENT).toBe(false);
    expect(await health(boardHealth)).toMatchObject({
      isWell: false,
      troubles: [expect.stringMatching(/has expired/)],
    });
    renew(join(scratch, 'root/ebbline'), '365');
    install(join(scratch, 'root/ebbline'));
    mosquitto.kill('SIGHUP');
    await expect.poll(() => sleeve.hasHeartbeat && sleeve.guidanceOn, PATIENT).toBe(true);
    await shown({
      cot: 'A1',
      feedMin: expect.any(Number),
      showing: expect.not.stringMatching(/no-guidance/),
    });

    // A child who has left is no more fed by its label; the other one is.
    await run('ward', 'leave', 'Uma');
    expect(await bind('child A2')).toMatchObject({ state: 'stop', stop: 'child-left' });
    expect(await bind('child A1')).toMatchObject({ state: 'more' });
    expect(await run('ward', 'trail')).toMatch(/The list is whole\./);
    for (const unit of units.values()) expect(unit.child.exitCode).toBeNull();
    await end();
    await Promise.all([...units.values()].map((unit) => unit.stop()));
    for (const unit of units.values()) expect(unit.child.exitCode).toBe(0);
  });
});
