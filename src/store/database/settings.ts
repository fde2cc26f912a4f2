import { ownJson } from '../../base/typed.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import type { FeedDatabase } from './feed-database.ts';
import { replacingSql } from './replacing.ts';

/** No answers yet. */
export const EMPTY_SETUP: FeedSetup = {
  babyName: null,
  babyBirthDate: null,
  bottleName: null,
  milkKind: null,
  portionMl: null,
  caregiver: null,
};

/** Stored data besides feeds: the last answers before a feed, settings, and calibrations by sleeve. Errors are SQLite's own. */
export class Settings {
  readonly #read;
  readonly #write;
  readonly #all;
  readonly #calibrations;
  readonly #insertCalibration;
  readonly #latestCalibration;

  constructor(database: FeedDatabase) {
    this.#read = database.prepare<{ json: string }>(
      'SELECT setting_json AS json FROM setting WHERE name = ?',
    );
    this.#write = database.prepare(replacingSql('setting', ['name'], ['setting_json']));
    this.#all = database.prepare<{ name: string; json: string }>(
      'SELECT name, setting_json AS json FROM setting ORDER BY name',
    );
    this.#calibrations = database.prepare<{ sleeveId: string; json: string }>(
      'SELECT sleeve_id AS sleeveId, calibration_json AS json FROM calibration ORDER BY no',
    );
    this.#insertCalibration = database.prepare(
      'INSERT INTO calibration (sleeve_id, calibration_json) VALUES (?, ?)',
    );
    this.#latestCalibration = database.prepare<{ json: string }>(
      'SELECT calibration_json AS json FROM calibration WHERE sleeve_id = ? ORDER BY no DESC LIMIT 1',
    );
  }

  readSetup(): FeedSetup {
    const [row] = this.#read.all('setup');
    return { ...EMPTY_SETUP, ...(row && ownJson<FeedSetup>(row.json)) };
  }

  writeSetup(setup: FeedSetup): void {
    this.#write.run('setup', JSON.stringify(setup));
  }

  /** Settings of another part of the program, stored as JSON and checked by that part; null if there are none. */
  readFor(room: string): unknown {
    const [row] = this.#read.all(room);
    return row ? JSON.parse(row.json) : null;
  }

  writeFor(room: string, settings: unknown): void {
    this.#write.run(room, JSON.stringify(settings));
  }

  /** All of them by name, for an export. */
  all(): { name: string; setting: unknown }[] {
    const records = this.#all.all();
    return records.map(({ name, json }) => ({ name, setting: JSON.parse(json) }));
  }

  /** All stored calibrations, oldest first. */
  calibrations(): { sleeveId: string; calibration: unknown }[] {
    const records = this.#calibrations.all();
    return records.map(({ sleeveId, json }) => ({ sleeveId, calibration: JSON.parse(json) }));
  }

  keepCalibration(sleeveId: string, calibration: unknown): void {
    this.#insertCalibration.run(sleeveId, JSON.stringify(calibration));
  }

  calibrationFor(sleeveId: string): unknown {
    const [row] = this.#latestCalibration.all(sleeveId);
    return row ? JSON.parse(row.json) : null;
  }
}
