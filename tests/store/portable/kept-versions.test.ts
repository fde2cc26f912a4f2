/**
 * What each version kept opens in this one, and means the same: the store's folder, a backup, an export, a calibration with a sleeve at rest.
 * Fixtures are never written anew; for a new version of the data `UPDATE_GOLDEN=1` makes those of that version.
 */
import { execFileSync } from 'node:child_process';
import * as fs from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gunzipSync, gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { MILK_DENSITY_GRAMS_PER_ML } from '../../../src/base/units.ts';
import { outcomeOf } from '../../../src/calibration/walk/outcome.ts';
import {
  createSensor,
  parseCalibration,
  type SensedMoment,
  senseSample,
} from '../../../src/sensing/index.ts';
import { MIGRATIONS } from '../../../src/store/database/migrations.ts';
import { openStore } from '../../../src/store/open-store.ts';
import { backUp } from '../../../src/store/portable/backup.ts';
import { exportTo } from '../../../src/store/portable/export.ts';
import { importInto } from '../../../src/store/portable/import.ts';
import { restoreInto } from '../../../src/store/portable/restore.ts';
import { BenchHands, createBenchSleeve } from '../../support/bench-sleeve.ts';
import { begun, benchFor, walked } from '../../support/calibration-walk.ts';
import { samplesOf } from '../../support/captures.ts';
import { fullFolder, NOW_MS } from '../../support/full-store.ts';
import { type Meaning, meaningOf } from '../../support/kept-meaning.ts';
import { seededRandom } from '../../support/random.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

const FIXTURES = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const versionFolder = (version: number): string => join(FIXTURES, `kept-data-${version}`);
/** Milk in the calibrated sleeve of the fixture's capture, g. */
const RESTING_GRAMS = 120;
const ABOUT = { nowMs: NOW_MS, softwareVersion: '0.1.0' };

function makeFixtures(folder: string): void {
  fs.mkdirSync(folder);
  const data = fullFolder(join(temporaryFolder(), 'data'));
  execFileSync('tar', ['-C', data, '-czf', join(folder, 'store.tar.gz'), '.']);
  const tar = join(temporaryFolder(), 'all.tar');
  backUp(data, tar, ABOUT);
  fs.writeFileSync(join(folder, 'backup.tar.gz'), gzipSync(fs.readFileSync(tar)));
  const out = join(temporaryFolder(), 'out');
  const store = openStore(data, { nowMs: () => NOW_MS });
  exportTo(store, out, { ...ABOUT, captures: false });
  store.close();
  fs.writeFileSync(join(folder, 'export.jsonl.gz'), gzipSync(fs.readFileSync(join(out, 'ebbline.jsonl'))));
  fs.writeFileSync(join(folder, 'meaning.json'), `${JSON.stringify(meaningOf(data, NOW_MS))}\n`);

  const bench = benchFor(21);
  const { calibration } = outcomeOf(walked(bench, begun(21)).walk, {
    finishedAt: '2026-01-05T09:40:00Z',
    softwareVersion: '0.1.0',
    uniform01: seededRandom(1),
  });
  const hands = new BenchHands(bench);
  hands.hold([0, 0, 1], { bottleWithGrams: RESTING_GRAMS });
  fs.writeFileSync(join(folder, 'calibration.json'), `${JSON.stringify(calibration)}\n`);
  fs.writeFileSync(join(folder, 'at-rest.cap.gz'), gzipSync(createBenchSleeve(hands).advance(5)));
}

if (process.env.UPDATE_GOLDEN && !fs.existsSync(versionFolder(MIGRATIONS.length)))
  test('fixtures of a new version are made', () => makeFixtures(versionFolder(MIGRATIONS.length)));

test('this version of the data has fixtures; UPDATE_GOLDEN=1 makes those of a new one', () => {
  expect(fs.existsSync(versionFolder(MIGRATIONS.length))).toBe(true);
});

const versions = fs
  .readdirSync(FIXTURES)
  .filter((name) => fs.existsSync(join(FIXTURES, name, 'meaning.json')))
  .map((name) => join(FIXTURES, name));

describe.each(versions)('%s', (folder) => {
  const file = (name: string): Buffer => fs.readFileSync(join(folder, name));
  const meant = (): Meaning => JSON.parse(file('meaning.json').toString()) as Meaning;
  const empty = (): string => join(temporaryFolder(), 'data');

  test('the store’s folder opens and means the same', () => {
    const data = empty();
    fs.mkdirSync(data);
    execFileSync('tar', ['-C', data, '-xzf', join(folder, 'store.tar.gz')]);
    // Later versions may add fields.
    expect(meaningOf(data, NOW_MS)).toMatchObject(meant());
  });

  test('a backup is restored and means the same', () => {
    const data = empty();
    const tar = join(temporaryFolder(), 'all.tar');
    fs.writeFileSync(tar, gunzipSync(file('backup.tar.gz')));
    restoreInto(data, tar, { replace: false, nowMs: NOW_MS });
    expect(meaningOf(data, NOW_MS)).toMatchObject(meant());
  });

  test('an export is taken in and means the same, but for captures and the settings of the machine', () => {
    const data = empty();
    const records = join(temporaryFolder(), 'ebbline.jsonl');
    fs.writeFileSync(records, gunzipSync(file('export.jsonl.gz')));
    importInto(data, records, NOW_MS);
    const { feeds, babies, handFeeds, milkEvents } = meant();
    const seen = meaningOf(data, NOW_MS);
    expect(seen.feeds).toMatchObject(feeds.map((feed) => ({ ...feed, capture: null })));
    expect({ ...seen, feeds: null }).toMatchObject({ feeds: null, babies, handFeeds, milkEvents });
  });

  test('a calibration says of a sleeve at rest what stands in it', () => {
    const sensor = createSensor(parseCalibration(JSON.parse(file('calibration.json').toString()), 'of then'));
    let moment: SensedMoment | null = null;
    for (const sample of samplesOf(gunzipSync(file('at-rest.cap.gz'))))
      moment = senseSample(sensor, sample) ?? moment;
    // The zeros have drifted since the calibration, and the loads are uncertain (D-019).
    expect(Math.abs(moment!.milkMl! * MILK_DENSITY_GRAMS_PER_ML - RESTING_GRAMS)).toBeLessThan(1.5);
    expect(moment).toMatchObject({ teatInMouth: false });
  });
});
