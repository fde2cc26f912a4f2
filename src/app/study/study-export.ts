/** A study as files that others can read without Ebbline: tables as CSV, a data package, a dictionary, a methods paragraph. */
import { createHash } from 'node:crypto';
import * as fs from 'node:fs';
import { join } from 'node:path';
import { stringify } from 'csv-stringify/sync';
import { PlainError } from '../../base/errors.ts';
import { dataPackage, type PackagedFile } from '../../research/export/data-package.ts';
import { dictionaryText, TABLES, type TableDefinition } from '../../research/export/dictionary.ts';
import { methodsText } from '../../research/export/methods.ts';
import { INDEX_KEYS, INDICES } from '../../research/indices/definitions.ts';
import { isGiven } from '../../research/indices/indices.ts';
import { percentile } from '../../research/indices/intervals.ts';
import type { SetAside } from '../../research/study/eligible.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import type { Session, StudyFolder } from './study-folder.ts';
import { type ComputedSession, computeSession } from './study-session.ts';

export interface StudyExport {
  folder: string;
  sessions: number;
  setAside: { session: string; why: SetAside }[];
  /** Arms or strata with so few participants that somebody could be recognised. */
  smallCells: string[];
}

type Value = string | number | boolean | null;
type Rows = Record<TableDefinition['name'], Value[][]>;

const WEEK_MS = 7 * 86_400_000;
/** Furthest that dates are moved, weeks either way. */
const SHIFT_WEEKS = 26;
/** Fewer participants than this in a cell may be recognised; common practice, no source. */
const SMALL_CELL = 5;

export interface StudyExportOptions {
  out: string;
  raw: boolean;
  softwareVersion: string;
  onProgress?: (done: number, of: number) => void;
}

/** @throws PlainError study-export-exists, and those of the store; nothing is left behind then */
export function exportStudy(
  study: StudyFolder,
  store: Pick<FeedStore, 'get' | 'capturePath'>,
  options: StudyExportOptions,
): StudyExport {
  const { out } = options;
  if (fs.existsSync(out)) {
    throw new PlainError(
      'study-export-exists',
      `There is something at ${out} already.`,
      'Name a folder that does not exist yet, with --out.',
    );
  }
  fs.mkdirSync(out, { recursive: true, mode: 0o700 });
  try {
    return fill(study, store, options);
  } catch (error) {
    fs.rmSync(out, { recursive: true, force: true });
    throw error;
  }
}

function fill(
  study: StudyFolder,
  store: Pick<FeedStore, 'get' | 'capturePath'>,
  { out, raw, softwareVersion, onProgress = () => {} }: StudyExportOptions,
): StudyExport {
  const tables = TABLES.filter(({ name }) => raw || name !== 'raw');
  const files = new Map(tables.map((table) => [table.name, new TableFile(out, table)]));
  const shifts = dateShifts(study);
  const sessions = study.sessions();
  const setAside: StudyExport['setAside'] = [];
  const known = newFacts();
  sessions.forEach((session, i) => {
    const computed = computeSession(store, session.feed, study.protocol);
    if (typeof computed === 'string') setAside.push({ session: session.session, why: computed });
    else note(known, computed);
    const rows = rowsOf(session, computed, shifts.get(session.participant) ?? 0, softwareVersion, raw);
    for (const [name, file] of files) for (const row of rows[name]) file.write(row);
    onProgress(i + 1, sessions.length);
  });
  const packaged = [...files.values()].map((file) => file.finish());
  const write = (name: string, text: string): void =>
    fs.writeFileSync(join(out, name), text, { mode: 0o600 });
  write(
    'datapackage.json',
    `${JSON.stringify(dataPackage(study.protocol, packaged, `Ebbline ${softwareVersion}`), null, 2)}\n`,
  );
  write('dictionary.md', dictionaryText());
  write(
    'methods.md',
    methodsText({
      protocol: study.protocol,
      participants: new Set(sessions.map(({ participant }) => participant)).size,
      sessions: sessions.length - setAside.length,
      setAside: setAside.length,
      softwareVersion,
      ...factsOf(known),
    }),
  );
  study.audit('exported', `${sessions.length - setAside.length} sessions`);
  return {
    folder: out,
    sessions: sessions.length - setAside.length,
    setAside,
    smallCells: smallCells(study),
  };
}

/** One CSV, written a row at a time; its hash is that of the bytes. */
class TableFile {
  readonly #table: TableDefinition;
  readonly #path: string;
  readonly #fd: number;
  readonly #hash = createHash('sha256');
  #bytes = 0;
  #waiting: Value[][] = [];

  constructor(folder: string, table: TableDefinition) {
    this.#table = table;
    this.#path = `${table.name}.csv`;
    this.#fd = fs.openSync(join(folder, this.#path), 'wx', 0o600);
    this.#add([table.columns.map(({ name }) => name)]);
  }

  write(row: Value[]): void {
    this.#waiting.push(row);
    if (this.#waiting.length >= 5000) this.#flush();
  }

  finish(): PackagedFile {
    this.#flush();
    fs.fsyncSync(this.#fd);
    fs.closeSync(this.#fd);
    return { table: this.#table, path: this.#path, bytes: this.#bytes, sha256: this.#hash.digest('hex') };
  }

  #flush(): void {
    this.#add(this.#waiting);
    this.#waiting = [];
  }

  #add(rows: Value[][]): void {
    // A boolean as the data package's standard writes it; a text that a spreadsheet would take for a formula cannot stand in a code.
    const text = stringify(rows, {
      cast: { boolean: (value) => (value ? 'true' : 'false') },
      record_delimiter: '\r\n',
    });
    const bytes = Buffer.from(text);
    this.#hash.update(bytes);
    this.#bytes += bytes.length;
    fs.writeSync(this.#fd, bytes);
  }
}

function rowsOf(
  { session, participant, arm }: Session,
  computed: SetAside | ComputedSession,
  shiftWeeks: number,
  softwareVersion: string,
  withRaw: boolean,
): Rows {
  const rows: Rows = { sessions: [], rows: [], sucks: [], cues: [], told: [], indices: [], raw: [] };
  if (typeof computed === 'string') {
    rows.sessions.push([session, participant, arm, ...Array<Value>(9).fill(null), computed]);
    return rows;
  }
  const { feed, refined, latchSec } = computed;
  const since = (atSec: number): number => Number((atSec - latchSec).toFixed(4));
  const day = new Date(feed.startedAtMs + shiftWeeks * WEEK_MS).toISOString().slice(0, 10);
  rows.sessions.push([
    session,
    participant,
    arm,
    day,
    feed.setup.portionMl,
    feed.durationSec,
    refined.totals.intakeMl,
    refined.totals.spiltMl,
    computed.calibrationSha256,
    feed.softwareVersion ?? null,
    softwareVersion,
    feed.told !== undefined,
    null,
  ]);
  refined.atSec.forEach((atSec, i) => {
    rows.rows.push([
      session,
      since(atSec),
      refined.milkMl[i]!,
      refined.milkSdMl[i]!,
      refined.intakeMl[i]!,
      refined.flowMlPerMin[i]!,
      refined.flowSdMlPerMin?.[i] ?? null,
      refined.teatInMouth[i]!,
      refined.quality?.[i] ?? null,
    ]);
  });
  rows.sucks = refined.suckAtSec.map((atSec) => [session, since(atSec)]);
  rows.cues = feed.cues.map(({ atSec, kind }) => [session, since(atSec), kind]);
  rows.told = (feed.told ?? []).map(({ atSec, shown, output }) => [session, since(atSec), shown, output]);
  rows.indices = INDEX_KEYS.map((key) => {
    const index = computed.indices[key];
    const { unit } = INDICES[key];
    return isGiven(index)
      ? [session, key, index.value, index.low, index.high, unit, null]
      : [session, key, null, null, null, unit, index.missing];
  });
  if (withRaw)
    rows.raw = computed
      .raw()
      .map(({ sequence, atSec, cells, accelerometer, gyroscope }) => [
        session,
        sequence,
        since(atSec),
        ...cells,
        ...accelerometer,
        ...(gyroscope ?? [null, null, null]),
      ]);
  return rows;
}

/** Whole weeks, so that the day of the week stays. Drawn from the participant's code and the study's own key by the study. */
function dateShifts(study: StudyFolder): Map<string, number> {
  const participants = new Set(study.sessions().map(({ participant }) => participant));
  return new Map(
    [...participants].map((participant) => {
      if (!study.protocol.shiftDates) return [participant, 0];
      const weeks = study.random(`dates of ${participant}`).integer([1, SHIFT_WEEKS]);
      return [participant, -weeks];
    }),
  );
}

function smallCells(study: StudyFolder): string[] {
  const counts = new Map<string, number>();
  for (const { arm, stratum } of study.allocations())
    for (const cell of [`arm ${arm}`, `stratum ${stratum}`]) counts.set(cell, (counts.get(cell) ?? 0) + 1);
  return [...counts].filter(([, count]) => count < SMALL_CELL).map(([cell, count]) => `${cell}: ${count}`);
}

const newFacts = () => ({
  recordedBy: new Set<string>(),
  calibrations: new Set<string>(),
  flowSds: [] as number[],
  milkSds: [] as number[],
  rates: [] as number[],
});

function note(
  known: ReturnType<typeof newFacts>,
  { feed, refined, samplesPerSec, calibrationSha256 }: ComputedSession,
): void {
  known.recordedBy.add(feed.softwareVersion ?? 'unknown');
  known.calibrations.add(calibrationSha256);
  known.flowSds.push(...(refined.flowSdMlPerMin ?? []).filter((sd) => sd !== null));
  known.milkSds.push(...refined.milkSdMl.filter((sd) => sd !== null));
  if (Number.isFinite(samplesPerSec)) known.rates.push(samplesPerSec);
}

const factsOf = ({ recordedBy, calibrations, flowSds, milkSds, rates }: ReturnType<typeof newFacts>) => ({
  recordedBy: [...recordedBy].sort(),
  calibrations: calibrations.size,
  samplesPerSec: rates.length === 0 ? 0 : percentile(rates, 0.5),
  flowSdMlPerMin: flowSds.length === 0 ? 0 : percentile(flowSds, 0.5),
  milkSdMl: milkSds.length === 0 ? 0 : percentile(milkSds, 0.5),
});
