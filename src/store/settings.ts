import type { FeedSetup } from '../feed/feed.ts';
import type { FeedDatabase } from './database.ts';

const EMPTY_SETUP: FeedSetup = {
  babyName: null,
  babyBirthDate: null,
  bottleName: null,
  milkKind: null,
  portionMl: null,
  caregiver: null,
};

/** What is kept besides feeds: the last answers before a feed, and calibrations by sleeve. Errors are SQLite's own. */
export class Settings {
  readonly #read;
  readonly #write;
  readonly #insertCalibration;
  readonly #latestCalibration;

  constructor(database: FeedDatabase) {
    this.#read = database.prepare('SELECT setting_json AS json FROM setting WHERE name = ?');
    this.#write = database.prepare('INSERT OR REPLACE INTO setting VALUES (?, ?)');
    this.#insertCalibration = database.prepare(
      'INSERT INTO calibration (sleeve_id, calibration_json) VALUES (?, ?)',
    );
    this.#latestCalibration = database.prepare(
      'SELECT calibration_json AS json FROM calibration WHERE sleeve_id = ? ORDER BY no DESC LIMIT 1',
    );
  }

  readSetup(): FeedSetup {
    const [row] = this.#read.all('setup') as { json: string }[];
    return { ...EMPTY_SETUP, ...(row && (JSON.parse(row.json) as FeedSetup)) };
  }

  writeSetup(setup: FeedSetup): void {
    this.#write.run('setup', JSON.stringify(setup));
  }

  /** Another room's settings, kept as JSON and checked by that room; null when there are none. */
  readFor(room: string): unknown {
    const [row] = this.#read.all(room) as { json: string }[];
    return row ? JSON.parse(row.json) : null;
  }

  writeFor(room: string, settings: unknown): void {
    this.#write.run(room, JSON.stringify(settings));
  }

  keepCalibration(sleeveId: string, calibration: unknown): void {
    this.#insertCalibration.run(sleeveId, JSON.stringify(calibration));
  }

  calibrationFor(sleeveId: string): unknown {
    const [row] = this.#latestCalibration.all(sleeveId) as { json: string }[];
    return row ? JSON.parse(row.json) : null;
  }
}
