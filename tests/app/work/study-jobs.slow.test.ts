/** A study recomputed by the workers of a house on a real PostgreSQL: the bytes of the same at home, no session twice, also when a worker is killed in one. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, onTestFinished } from 'vitest';
import { openStudyQueue, withoutCaptures, workersCrew } from '../../../src/app/study/recompute/on-workers.ts';
import { programSha256 } from '../../../src/app/study/recompute/program.ts';
import { recomputeStudy } from '../../../src/app/study/recompute/recompute.ts';
import { StudyFolder, studiesAmong } from '../../../src/app/study/study-folder.ts';
import { move } from '../../../src/store/move/move.ts';
import { openStore } from '../../../src/store/open-store.ts';
import { openStoreAt } from '../../../src/store/postgres/postgres-store.ts';
import { type SideFiles, sideFilesIn } from '../../../src/store/side-files.ts';
import { readFixture } from '../../support/captures.ts';
import { type Running, requireBuild, runCommand, startCommand } from '../../support/command.ts';
import { noPostgres, sharedPostgres, type TestPostgres } from '../../support/postgres.ts';
import { recordFeed } from '../../support/recorded-feed.ts';
import { PROTOCOL, SECOND_BYTES, START_MS } from '../../support/study.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

const PROGRAM = fileURLToPath(new URL('../../../dist/ebbline.js', import.meta.url));
const FRAME_BYTES = 31;
const SESSIONS = 6;
const clock = { nowMs: () => START_MS, drawSeed: () => 7 };

/** A family's folder with a study of some sessions, the last of which has a capture that is broken. */
function studyAtHome(): string {
  const folder = join(temporaryFolder(), 'data');
  const store = openStore(folder, { recording: true, softwareVersion: '1', nowMs: () => START_MS });
  const { bytes: whole, calibration } = readFixture('calm');
  const bytes = whole.subarray(0, 40 * SECOND_BYTES);
  const study = StudyFolder.begin(studiesAmong(sideFilesIn(folder)), PROTOCOL, clock);
  study.enroll('F07', 'all');
  for (let i = 0; i < SESSIONS; i++) {
    // No two have the same counts.
    const cut = bytes.subarray(0, bytes.length - i * FRAME_BYTES);
    recordFeed(store, { id: `feed-${i}`, bytes: cut, calibration, startMs: START_MS });
    study.bind(`feed-${i}`, 'F07');
  }
  store.close();
  writeFileSync(join(folder, 'captures', `feed-${SESSIONS - 1}.cap.cols`), 'no capture at all');
  return folder;
}

async function houseWith(folder: string) {
  const server = await sharedPostgres();
  const { url, name } = server.freshDatabase();
  const place = { database: url, site: 'elm', databasePasswordFile: server.passwordFile };
  move(folder, place);
  const data = temporaryFolder();
  const where = ['--database', url, '--site', 'elm', '--database-password-file', server.passwordFile];
  const worker = async (): Promise<{ running: Running; computed(): Promise<number> }> => {
    // No broker answers at this address: studies do not need one.
    const broker = ['--broker', 'mqtt://127.0.0.1:1', '--health-port', '0'];
    const running = startCommand(['work', ...broker, ...where], { data });
    const [, health] = await running.says(/(http:\S+)\/health/);
    return {
      running,
      async computed() {
        const text = await (await fetch(`${health}/metrics`)).text();
        return Number(/^ebbline_study_sessions_computed_total (\d+)/m.exec(text)?.[1]);
      },
    };
  };
  return { server, name, place, where, data, worker };
}

/** The study of a family's folder, moved to a house. */
async function studyOfHouse() {
  const folder = studyAtHome();
  const house = await houseWith(folder);
  const store = openStoreAt(house.place);
  onTestFinished(() => store.close());
  return { folder, house, store, study: StudyFolder.open(studiesAmong(store.files), 'pace-1', clock) };
}

const jobs = (server: TestPostgres, name: string, which: string): number =>
  Number(server.sql(name, `SELECT count(*) FROM pgboss.job WHERE name LIKE 'study.%' AND ${which}`)[0]);

function resultsIn(files: SideFiles): Record<string, string> {
  const names = ['run.json', 'done.json', 'differences.csv', 'briefs.json'];
  const all = [
    ...names,
    ...files
      .within('sessions')
      .names()
      .map((name) => `sessions/${name}`),
  ];
  return Object.fromEntries(all.map((name) => [name, files.read(name)!.toString('base64')]));
}

describe.skipIf(noPostgres !== null)(`a study on workers ${noPostgres ?? ''}`, () => {
  requireBuild();

  it('is computed by two of them, no session twice, to the bytes of the same at home', async () => {
    const folder = studyAtHome();
    const house = await houseWith(folder);
    const home = await runCommand(['study', 'recompute', 'pace-1'], { data: folder });
    expect(home.stderr).toBe('');
    const workers = await Promise.all([house.worker(), house.worker()]);
    const asked = ['study', 'recompute', 'pace-1', ...house.where];
    const done = await runCommand(asked, { data: house.data });
    // On a busy computer it may say meanwhile that nothing was computed yet.
    expect(done.code).toBe(0);
    expect(done.stdout).toContain(`${SESSIONS - 1} sessions computed`);
    expect(done.stdout).toContain('set aside: F07-006, its calibration or its raw counts cannot be read');
    // The two texts differ only in the place.
    const told = (text: string) => text.replace(/ in \S.*$/m, '');
    expect(told(done.stdout)).toBe(told(home.stdout));

    const store = openStoreAt(house.place);
    onTestFinished(() => store.close());
    const study = StudyFolder.open(studiesAmong(store.files), 'pace-1', clock);
    const atHome = StudyFolder.open(studiesAmong(sideFilesIn(folder)), 'pace-1', clock);
    expect(resultsIn(study.recomputed.within('001'))).toEqual(resultsIn(atHome.recomputed.within('001')));
    const computed = await Promise.all(workers.map((one) => one.computed()));
    expect(computed.reduce((sum, one) => sum + one, 0)).toBe(SESSIONS);
    expect(jobs(house.server, house.name, "state = 'completed' AND retry_count = 0")).toBe(SESSIONS);

    // The same command again makes a second run and compares it with the first.
    const again = await runCommand(asked, { data: house.data });
    expect(again.stdout).toContain('ompared with run 001');
    expect(again.stdout).toContain('nothing moved');
    // A move does not copy results: they are computed again.
    const back = join(temporaryFolder(), 'back');
    for (const { running } of workers) running.child.kill('SIGKILL');
    move(house.place, back);
    expect(readdirSync(join(back, 'studies/pace-1'))).not.toContain('recomputed');
    expect(readFileSync(join(back, 'studies/pace-1/sessions.jsonl'), 'utf8')).toContain('F07-006');
  });

  it('goes on with another one when a worker is killed in a job', async () => {
    const { folder, house, store, study } = await studyOfHouse();
    const program = { programSha256: programSha256(PROGRAM), softwareVersion: '1' };
    // A job is given back because its lock is gone, not because of this time, which is longer than the test.
    const queue = await openStudyQueue(store.address, program.programSha256, { lostAfterSec: 3600 });
    onTestFinished(() => queue.close());
    const crew = workersCrew(study, queue);
    onTestFinished(() => crew.close());
    const dying = await house.worker();
    const asked = recomputeStudy(study, withoutCaptures(store), crew, program);
    const isInJob = () => jobs(house.server, house.name, "state = 'active'") === 1;
    await expect
      .poll(
        () => {
          if (!isInJob()) return false;
          // Stopped first, so that the kill comes while it has the job.
          dying.running.child.kill('SIGSTOP');
          if (isInJob()) return true;
          dying.running.child.kill('SIGCONT');
          return false;
        },
        { interval: 5 },
      )
      .toBe(true);
    dying.running.child.kill('SIGKILL');
    const before = jobs(house.server, house.name, "state = 'completed'");
    const other = await house.worker();
    const done = await asked;
    expect(done.sessions).toBe(SESSIONS - 1);
    expect(done.setAside).toEqual([{ session: 'F07-006', why: 'unreadable' }]);
    expect(await other.computed()).toBe(SESSIONS - before);
    expect(jobs(house.server, house.name, "state = 'completed' AND retry_count = 1")).toBe(1);
    expect(jobs(house.server, house.name, "state = 'completed'")).toBe(SESSIONS);
    // Two workers give the same results as one process.
    const home = await runCommand(['study', 'recompute', 'pace-1'], { data: folder });
    expect(home.stderr).toBe('');
    const { 'run.json': _by, ...results } = resultsIn(study.recomputed.within('001'));
    const atHome = StudyFolder.open(studiesAmong(sideFilesIn(folder)), 'pace-1', clock);
    expect(resultsIn(atHome.recomputed.within('001'))).toMatchObject(results);
  });

  it('says which session could not be computed, and goes on from there when it is asked again', async () => {
    const { store, study } = await studyOfHouse();
    const program = { programSha256: 'f'.repeat(64), softwareVersion: '1' };
    const queue = await openStudyQueue(store.address, program.programSha256);
    onTestFinished(() => queue.close());
    await queue.put('pace-1/001/F07-001', { study: 'pace-1', run: '001', session: 'F07-001' });
    await queue.put('pace-1/001/F07-001', { study: 'pace-1', run: '001', session: 'F07-001' });
    for (let tries = 0; tries < 3; tries++)
      expect(
        await queue.doOne(() => {
          throw new Error('no memory left');
        }),
      ).toBe(true);
    // Put twice it was one job; it failed and is not tried again by itself.
    expect(await queue.doOne(() => {})).toBe(false);
    expect(await queue.stateOf('pace-1/001/F07-001')).toEqual({ is: 'failed', why: 'no memory left' });
    // Put once more it is tried again.
    await queue.put('pace-1/001/F07-001', { study: 'pace-1', run: '001', session: 'F07-001' });
    expect(await queue.stateOf('pace-1/001/F07-001')).toEqual({ is: 'waiting' });
    expect(study.recomputed.names()).toEqual([]);
  });

  it('gives a job to another process once its own is gone, and never while it has it', async () => {
    const house = await houseWith(studyAtHome());
    const store = openStoreAt(house.place);
    onTestFinished(() => store.close());
    const [one, other] = await Promise.all(
      [1, 2].map(() => openStudyQueue(store.address, 'f'.repeat(64), { unlockedSec: 0, lostAfterSec: 3600 })),
    );
    onTestFinished(async () => {
      await one!.close();
      await other!.close();
    });
    await one!.put('a', { job: 1 });
    const never = (): void => {
      throw new Error('it was given to two');
    };
    await one!.doOne(async () => {
      await other!.giveBackLost();
      expect(await other!.doOne(never)).toBe(false);
    });
    expect(await one!.stateOf('a')).toEqual({ is: 'done' });

    await one!.put('b', { job: 2 });
    const done: unknown[] = [];
    await one!.doOne(async () => {
      // As if its process were gone: the server has lost the connection that held the lock.
      house.server.sql(
        house.name,
        `SELECT pg_terminate_backend(pid) FROM pg_locks WHERE locktype = 'advisory' AND classid = 1161970253`,
      );
      await expect
        .poll(async () => {
          await other!.giveBackLost();
          return other!.doOne((job) => void done.push(job));
        })
        .toBe(true);
    });
    expect(done).toEqual([{ job: 2 }]);
    expect(jobs(house.server, house.name, "state = 'completed'")).toBe(2);
  });
});
