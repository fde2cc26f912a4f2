/** Stores each record of an import, inside one transaction. */
import { sameName } from '../../base/babies.ts';
import { PlainError } from '../../base/errors.ts';
import type { Baby } from '../../feed/record/baby.ts';
import type { FeedEvent, FeedRow, FeedSummary, ToldCue } from '../../feed/record/feed.ts';
import type { MilkEvent } from '../../feed/record/written-by-hand.ts';
import type { KeptCue } from '../../pacing/cues/cue.ts';
import type { RefinedFeed } from '../../sensing/moment.ts';
import { LATEST_MS } from '../checks.ts';
import { Babies } from '../database/babies.ts';
import { Corrections } from '../database/corrections.ts';
import { inTransaction } from '../database/database.ts';
import { FeedRecords } from '../database/feed-records.ts';
import { HandFeeds } from '../database/hand-feeds.ts';
import { MilkEvents } from '../database/milk-events.ts';
import { EMPTY_SETUP, Settings } from '../database/settings.ts';
import { Whose } from '../database/whose.ts';
import { ArrivingCaptures } from './arriving.ts';
import { type FeedExport, type HandFeedExport, isPossibleAge } from './format.ts';
import type { HeldFolder } from './held-folder.ts';
import { NumbersHere } from './numbers-here.ts';
import type { Importable, ReadLine } from './read-records.ts';

export interface SetAside {
  line: number;
  what: string;
}

interface CameIn {
  feeds: number;
  handFeeds: number;
  milkEvents: number;
  doubles: number;
  setAside: SetAside[];
  oddities: string[];
  /** Lines set aside, unchanged. */
  lines: string[];
}

/** One import, inside one transaction. */
export class Importer {
  readonly #records;
  readonly #corrections;
  readonly #handFeeds;
  readonly #milk;
  readonly #settings;
  readonly #babies;
  readonly #result: CameIn = {
    ...{ feeds: 0, handFeeds: 0, milkEvents: 0, doubles: 0 },
    ...{ setAside: [], oddities: [], lines: [] },
  };
  /** Ids of feeds seen so far in this file. */
  readonly #ids = new Set<string>();
  readonly #captures;
  readonly #here = new NumbersHere();
  readonly #calibratedHere: ReadonlySet<string>;
  /** Ids of imported feeds. */
  readonly #cameIn = new Set<string>();
  /** True if the ledger here is empty; then events keep their numbers. */
  readonly #isNewLedger: boolean;

  constructor(
    private readonly held: HeldFolder,
    besides: string,
    private readonly nowMs: number,
    private readonly simulated: boolean | null,
    private readonly isByName: boolean,
  ) {
    this.#captures = new ArrivingCaptures(held, besides, (sentence) => this.#result.oddities.push(sentence));
    this.#records = new FeedRecords(held.database);
    this.#corrections = new Corrections(held.database);
    this.#handFeeds = new HandFeeds(held.database);
    this.#milk = new MilkEvents(held.database);
    this.#settings = new Settings(held.database);
    this.#babies = new Babies(held.database);
    this.#calibratedHere = new Set(this.#settings.calibrations().map(({ sleeveId }) => sleeveId));
    this.#isNewLedger = this.#milk.isEmpty();
  }

  /** @param feedIds  feeds that the file names */
  run(lines: Iterable<ReadLine>, feedIds: Iterable<string>) {
    this.#captures.list(feedIds);
    try {
      inTransaction(this.held.database, () => {
        const kept = this.#records.holdsSimulated();
        if (kept !== null && this.simulated !== null && kept !== this.simulated)
          throw mixed(this.held.folder);
        for (const one of lines) {
          const fault = 'fault' in one ? one.fault : this.#tryToTake(one.line, one.record);
          if (fault === null) continue;
          this.#result.setAside.push({ line: one.line, what: fault });
          if (one.text !== '') this.#result.lines.push(one.text);
        }
        if (this.isByName) new Whose(this.held.database).bindCertain(this.nowMs, { feedIds: this.#cameIn });
        this.#captures.strikeOff();
      });
    } catch (error) {
      this.#captures.giveUpAll();
      throw error;
    }
    return { ...this.#result, captures: this.#captures.count };
  }

  /** Imports a record completely or not at all. @returns the reason if it failed; else null */
  #tryToTake(line: number, record: Importable): string | null {
    const { database } = this.held;
    if (record.record === 'feed' || record.record === 'hand-feed') {
      if (this.#ids.has(record.id)) return `Line ${line}: the feed ${record.id} stands twice in the file.`;
      this.#ids.add(record.id);
    }
    database.exec('SAVEPOINT line');
    try {
      this.#take(record);
      database.exec('RELEASE line');
      return null;
    } catch (error) {
      if (!(error instanceof PlainError) || !OF_THE_LINE.test(error.code)) throw error;
      database.exec('ROLLBACK TO line; RELEASE line');
      if (record.record === 'feed') this.#captures.giveUp(record.id);
      return `Line ${line}: ${error.message}`;
    }
  }

  #take(record: Importable): void {
    if (record.record === 'feed') this.#takeFeed(record);
    else if (record.record === 'hand-feed') this.#takeHandFeed(record);
    else if (record.record === 'baby') this.#takeBaby(record.baby);
    else if (record.record === 'milk') this.#takeMilk(record.no, record.event as MilkEvent);
    else if (record.record === 'calibration') {
      // The latest one counts, so an imported one must not become the latest while another is in use here.
      const { sleeveId, calibration } = record;
      if (!this.#calibratedHere.has(sleeveId)) this.#settings.keepCalibration(sleeveId, calibration);
    } else if (this.#settings.readFor(record.name) === null) {
      // Settings that exist here are not replaced.
      const { name, setting } = record;
      this.#settings.writeFor(name, name === 'setup' ? this.#here.ofBaby(setting as object) : setting);
    }
  }

  /** A baby of the same name that exists here counts as the same baby, unless the birth dates differ: its feeds get the id it has here. */
  #takeBaby(baby: Baby): void {
    const kept = this.#babies.list();
    const namesakes = kept.filter(
      (one) => sameName(one.name, baby.name) && mayBeOfOneDay(one.birthDate, baby.birthDate),
    );
    const here = kept.find(({ id }) => id === baby.id) ?? (namesakes.length === 1 ? namesakes[0] : undefined);
    if (here) {
      this.#result.doubles++;
      this.#here.babyIs(baby.id, here.id);
    } else this.#babies.write(baby);
  }

  #takeFeed(record: FeedExport): void {
    if (this.#records.summary(record.id)) {
      this.#result.doubles++;
      return;
    }
    const { calibration, softwareVersion, rows, cues, told, events, refined, corrections, ...rest } = record;
    const feed = {
      ...rest,
      setup: { ...EMPTY_SETUP, ...this.#here.ofBaby(rest.setup) },
      captureFile: null,
    } as unknown as FeedSummary;
    const captureFile = this.#captures.take(feed, calibration, softwareVersion);
    const cursor = this.#records.insert(feed, calibration, softwareVersion, captureFile ?? '');
    this.#records.append(cursor, {
      ...feed,
      rows: rows.atSec.map((_, i) => rowAt(rows, i)),
      cues: cues as KeptCue[],
      ...(told && { told: told as ToldCue[] }),
      events: events as FeedEvent[],
      bytes: [],
    });
    this.#records.packRows(feed.id);
    this.#cameIn.add(feed.id);
    if (refined) this.#records.keepRefined(feed.id, refined as RefinedFeed);
    for (const { correction, by, madeAtMs } of corrections) {
      const said = correction as Parameters<Corrections['add']>[1];
      const here = said.kind === 'setup' ? { ...said, setup: this.#here.ofBaby(said.setup) } : said;
      this.#corrections.add(feed, here, by, madeAtMs);
    }
    this.#result.feeds++;
    if (!isPossibleAge(record)) {
      this.#result.oddities.push(
        `Feed ${feed.id}: its date and the date of birth beside it do not fit. The clock was wrong, or a digit is; both were taken as they are.`,
      );
    }
  }

  #takeHandFeed({ id, writtenAtMs, entry, corrections }: HandFeedExport): void {
    if (this.#handFeeds.get(id)) {
      this.#result.doubles++;
      return;
    }
    this.#handFeeds.add(id, this.#here.ofBaby(entry), writtenAtMs);
    this.#cameIn.add(id);
    for (const { correction, by, madeAtMs } of corrections) {
      const said = correction as Parameters<HandFeeds['correct']>[1];
      const here = said.kind === 'entry' ? { ...said, entry: this.#here.ofBaby(said.entry) } : said;
      this.#handFeeds.correct(this.#handFeeds.get(id)!, here, by, madeAtMs);
    }
    this.#result.handFeeds++;
  }

  #takeMilk(no: number, event: MilkEvent): void {
    if (this.#isNewLedger) {
      this.#milk.add(this.#here.ofBaby(event), LATEST_MS, no);
      this.#result.milkEvents++;
      return;
    }
    const renumbered = this.#here.ofMilk(event);
    const known = this.#milk.numberOf(renumbered);
    if (known === null) this.#result.milkEvents++;
    else this.#result.doubles++;
    this.#here.milkIs(no, known ?? this.#milk.add(renumbered, LATEST_MS));
  }
}

/** Errors of one record; any other error is the disk's. */
const OF_THE_LINE = /^(entry-invalid|baby-|store-taken)/;

const mayBeOfOneDay = (one: string | null, other: string | null): boolean =>
  one === null || other === null || one === other;

function rowAt(rows: FeedExport['rows'], i: number): FeedRow {
  return {
    atSec: rows.atSec[i]!,
    milkMl: rows.milkMl[i]!,
    flowMlPerMin: rows.flowMlPerMin[i]!,
    intakeMl: rows.intakeMl[i]!,
    teatInMouth: rows.teatInMouth[i]!,
    tiltDeg: rows.tiltDeg[i]!,
  };
}

/** @param where  the file or folder with the other kind of feeds */
export const mixed = (file: string): PlainError =>
  new PlainError(
    'store-mixed',
    `Real and simulated feeds are never kept together, but ${file} would bring them together. Nothing was imported.`,
    'Import it with --simulated, or without it.',
  );
