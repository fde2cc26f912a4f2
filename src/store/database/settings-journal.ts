import type { FeedSetup } from '../../feed/record/feed.ts';
import { plainly } from '../faults.ts';
import { endLeftover } from './database.ts';
import type { RenewedDatabase } from './renewed.ts';
import { Settings } from './settings.ts';

/** What any process may do with kept settings and calibrations. All calls are synchronous and durable on return; disk troubles are PlainErrors. */
export class SettingsJournal {
  readonly #settings: Settings;

  constructor(
    protected readonly folder: string,
    protected readonly database: RenewedDatabase,
  ) {
    this.#settings = new Settings(database);
  }

  readSetup(): FeedSetup {
    return this.safely(() => this.#settings.readSetup());
  }

  writeSetup(setup: FeedSetup): void {
    this.safely(() => this.#settings.writeSetup(setup));
  }

  /** Whether sound is on; default off. */
  readSoundOn = (): boolean => this.safely(() => this.#settings.readFor('sound-on')) === true;
  writeSoundOn = (on: boolean): void => this.safely(() => this.#settings.writeFor('sound-on', on));

  /** Whether light and page are dimmed. */
  readDimmed = (): boolean => this.safely(() => this.#settings.readFor('dimmed')) === true;
  writeDimmed = (on: boolean): void => this.safely(() => this.#settings.writeFor('dimmed', on));

  /** The family's time zone by its IANA name; null if none was chosen. */
  readZone = (): string | null => {
    const zone = this.safely(() => this.#settings.readFor('zone'));
    return typeof zone === 'string' ? zone : null;
  };
  writeZone = (zone: string): void => this.safely(() => this.#settings.writeFor('zone', zone));

  /** Settings for packing, as planning wrote them; null if there are none. */
  readPacking = (): unknown => this.safely(() => this.#settings.readFor('packing'));
  writePacking = (settings: unknown): void => this.safely(() => this.#settings.writeFor('packing', settings));

  /** Histories of calibrations, as calibration wrote them; null before the first. */
  readCalibrationHistories = (): unknown => this.safely(() => this.#settings.readFor('calibration-notes'));
  writeCalibrationHistories = (histories: unknown): void =>
    this.safely(() => this.#settings.writeFor('calibration-notes', histories));

  /** Feeds by a sleeve alone, as calibration wrote them; null before the first. */
  readAloneFeeds = (): unknown => this.safely(() => this.#settings.readFor('alone-feeds'));
  writeAloneFeeds = (feeds: unknown): void =>
    this.safely(() => this.#settings.writeFor('alone-feeds', feeds));

  /** All settings by name, for an export. */
  settings(): { name: string; setting: unknown }[] {
    return this.safely(() => this.#settings.all());
  }

  /** All stored calibrations, oldest first. */
  calibrations(): { sleeveId: string; calibration: unknown }[] {
    return this.safely(() => this.#settings.calibrations());
  }

  /** Stores a calibration for a sleeve's number; the latest one counts, older ones stay. */
  keepCalibration(sleeveId: string, calibration: unknown): void {
    this.safely(() => this.#settings.keepCalibration(sleeveId, calibration));
  }

  /** @returns the latest calibration of this sleeve, null if there is none */
  calibrationFor(sleeveId: string): unknown {
    return this.safely(() => this.#settings.calibrationFor(sleeveId));
  }

  protected safely<T>(action: () => T): T {
    return plainly(this.folder, () => {
      this.database.ready();
      endLeftover(this.database);
      return action();
    });
  }
}
