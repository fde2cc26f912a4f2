/** Exports a study as files that can be read without Ebbline: tables as CSV and Parquet, a data package, a dictionary, a methods paragraph. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { PlainError } from '../../../base/errors.ts';
import type { KeptFeed } from '../../../feed/record/feed.ts';
import { dataPackage, type PackagedFile } from '../../../research/export/data-package.ts';
import { dictionaryText, TABLES } from '../../../research/export/dictionary.ts';
import { methodsText } from '../../../research/export/methods.ts';
import { PYTHON_NOTEBOOK } from '../../../research/export/notebook-python.ts';
import { R_NOTEBOOK } from '../../../research/export/notebook-r.ts';
import { briefOf, type SessionBrief } from '../../../research/group/brief.ts';
import { percentile } from '../../../research/indices/intervals.ts';
import { armNames, isBlinded } from '../blinding.ts';
import { type Crew, inOrder } from '../crew/crew.ts';
import { writeFigures } from '../figures/study-figures.ts';
import { noteHandedOut } from '../handed-out.ts';
import { latestResults } from '../recompute/runs.ts';
import {
  isSetAside,
  type SessionInput,
  type SessionResult,
  type StudyStore,
  sessionInput,
} from '../sessions/session-result.ts';
import { type ListedAside, Seen } from '../sessions/set-aside-list.ts';
import type { StudyFolder } from '../study-folder.ts';
import type { Session } from '../study-records.ts';
import { dateShifts, freeTexts, namesIn, smallCells } from './privacy.ts';
import type { ExportedSession } from './session-export.ts';
import { type Rows, type RowTable, rowsOf, rowsSetAside, withoutTold } from './session-rows.ts';
import { TableFiles } from './table-files.ts';

export interface StudyExport {
  folder: string;
  sessions: number;
  setAside: ListedAside[];
  /** Arms or strata with so few participants that somebody could be identified. */
  smallCells: string[];
  /** Typed texts (title, codes) that contain a baby's or caregiver's name. */
  named: string[];
}

export interface StudyExportOptions {
  out: string;
  raw: boolean;
  softwareVersion: string;
  /** Whether to draw the figures; default yes. */
  figures?: boolean;
  /** Hash of this program, to reuse results of its own recomputation; null: compute everything. */
  programSha256?: string | null;
  onProgress?: (done: number, of: number) => void;
}

/** @throws PlainError study-export-exists, and those of the store; then no files are left */
export async function exportStudy(
  study: StudyFolder,
  store: StudyStore,
  crew: Crew,
  options: StudyExportOptions,
): Promise<StudyExport> {
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
    return await new Filling(study, store, crew, options).run();
  } catch (error) {
    fs.rmSync(out, { recursive: true, force: true });
    throw error;
  }
}

interface Ready {
  session: Session;
  kept: KeptFeed | null;
  done: ExportedSession;
}

class Filling {
  readonly #files: Map<RowTable, TableFiles>;
  readonly #raw: { path: string; bytes: number; sha256: string }[] = [];
  readonly #facts = newFacts();
  readonly #seen = new Seen();
  readonly #createdBy: string;
  readonly #names = new Set<string | null>();
  readonly #briefs: SessionBrief[] = [];
  readonly #isBlinded: boolean;
  readonly #nameOf: (arm: string) => string;

  constructor(
    private readonly study: StudyFolder,
    private readonly store: StudyStore,
    private readonly crew: Crew,
    private readonly options: StudyExportOptions,
  ) {
    const { out, softwareVersion, raw } = options;
    this.#createdBy = `Ebbline ${softwareVersion}`;
    this.#isBlinded = isBlinded(study);
    this.#nameOf = armNames(study);
    const tables = TABLES.filter(({ name }) => name !== 'raw');
    this.#files = new Map(
      tables.map((table) => [table.name as RowTable, new TableFiles(out, table, this.#createdBy)]),
    );
    if (raw) fs.mkdirSync(join(out, 'raw'), { mode: 0o700 });
  }

  async run(): Promise<StudyExport> {
    const { study, crew, options } = this;
    const sessions = study.sessions();
    const results = latestResults(study, options.programSha256 ?? null);
    const shifts = dateShifts(study);
    let count = 0;
    await inOrder(
      sessions,
      2 * crew.hands,
      (session) => this.#ready(session, results),
      (session, ready) => {
        this.#take(ready, shifts.get(session.participant) ?? 0);
        options.onProgress?.(++count, sessions.length);
      },
    );
    this.#writeTexts(sessions);
    if (options.figures ?? true)
      await writeFigures(study.protocol, this.#briefs, join(options.out, 'figures'));
    const setAside = this.#seen.list;
    noteHandedOut(
      study,
      options.out,
      sessions.map(({ participant }) => participant),
    );
    study.audit('exported', `${sessions.length - setAside.length} sessions`);
    return {
      folder: options.out,
      sessions: sessions.length - setAside.length,
      setAside,
      smallCells: smallCells(study, this.#nameOf),
      named: namesIn(freeTexts(study), this.#names),
    };
  }

  async #ready(session: Session, results: (session: string) => Buffer | null): Promise<Ready> {
    const found = sessionInput(this.store, session.feed, this.study.protocol);
    if (typeof found === 'string') return { session, kept: null, done: { computed: found, raw: null } };
    const done = await this.crew.run('exportSession', this.#job(session, found.input, results));
    return { session, kept: found.kept, done };
  }

  #job({ session }: Session, input: SessionInput, results: (session: string) => Buffer | null) {
    const rawOut = this.options.raw ? join(this.options.out, rawPath(session)) : null;
    return { session, input, result: results(session), rawOut, createdBy: this.#createdBy };
  }

  #take({ session, kept, done: { computed, raw } }: Ready, shiftWeeks: number): void {
    const why = isSetAside(computed)
      ? this.#seen.whyNot(session.session, computed, null)
      : this.#seen.whyNot(session.session, null, computed.captureSha256);
    const path = rawPath(session.session);
    if (raw && why === null) this.#raw.push({ path, ...raw });
    else if (raw) fs.rmSync(join(this.options.out, path));
    const named = { ...session, arm: this.#nameOf(session.arm) };
    if (why !== null || isSetAside(computed)) {
      this.#write(rowsSetAside(named, why!));
      return;
    }
    note(this.#facts, kept!, computed);
    this.#names.add(kept!.setup.babyName).add(kept!.setup.caregiver);
    this.#briefs.push(briefOf(named, computed));
    const rows = rowsOf(named, kept!, computed, shiftWeeks, this.options.softwareVersion);
    this.#write(this.#isBlinded ? withoutTold(rows) : rows);
  }

  #write(rows: Rows): void {
    for (const [name, file] of this.#files) for (const row of rows[name]) file.write(row);
  }

  #writeTexts(sessions: readonly Session[]): void {
    const { study, options } = this;
    const setAside = this.#seen.list;
    const files: PackagedFile[] = [...this.#files.values()].flatMap((file) => file.finish());
    const write = (name: string, text: string): void =>
      fs.writeFileSync(join(options.out, name), text, { mode: 0o600 });
    const described = dataPackage(study.protocol, files, this.#raw, this.#createdBy);
    write('datapackage.json', `${JSON.stringify(described, null, 2)}\n`);
    write('dictionary.md', dictionaryText(study.protocol.language));
    write('notebook.py', PYTHON_NOTEBOOK);
    write('notebook.R', R_NOTEBOOK);
    write(
      'methods.md',
      methodsText({
        protocol: study.protocol,
        participants: new Set(sessions.map(({ participant }) => participant)).size,
        sessions: sessions.length - setAside.length,
        setAside: setAside.length,
        softwareVersion: options.softwareVersion,
        isBlinded: this.#isBlinded,
        ...factsOf(this.#facts),
      }),
    );
  }
}

const rawPath = (session: string): string => `raw/${session}.parquet`;

const newFacts = () => ({
  recordedBy: new Set<string>(),
  calibrations: new Set<string>(),
  flowSds: [] as number[],
  milkSds: [] as number[],
  rates: [] as number[],
});

function note(known: ReturnType<typeof newFacts>, feed: KeptFeed, computed: SessionResult): void {
  const { refined, samplesPerSec, calibrationSha256 } = computed;
  known.recordedBy.add(feed.softwareVersion ?? 'unknown');
  known.calibrations.add(calibrationSha256);
  const middle = (sds: readonly (number | null)[]): number[] => {
    const given = sds.filter((sd) => sd !== null);
    return given.length === 0 ? [] : [percentile(given, 0.5)];
  };
  known.flowSds.push(...middle(refined.flowSdMlPerMin ?? []));
  known.milkSds.push(...middle(refined.milkSdMl));
  if (Number.isFinite(samplesPerSec)) known.rates.push(samplesPerSec);
}

const factsOf = ({ recordedBy, calibrations, flowSds, milkSds, rates }: ReturnType<typeof newFacts>) => ({
  recordedBy: [...recordedBy].sort(),
  calibrations: calibrations.size,
  samplesPerSec: rates.length === 0 ? 0 : percentile(rates, 0.5),
  flowSdMlPerMin: flowSds.length === 0 ? 0 : percentile(flowSds, 0.5),
  milkSdMl: milkSds.length === 0 ? 0 : percentile(milkSds, 0.5),
});
