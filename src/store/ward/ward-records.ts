/** Statements about a ward: children in cots, labels, fillings of bottles, bindings. Errors of statements are the engine's own. */
import type { NextFeeds } from '../../ward/binding/next-feeds.ts';
import type { Binding, Filling, Label, Stay } from '../../ward/labels/label.ts';
import { inTransaction } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { replacingSql } from '../database/replacing.ts';
import { rowsOf } from './rows.ts';
import { Trail } from './trail.ts';

export type ConsentKind = 'parent' | 'research';

/** Consent that a person may see data of a child, from and until when. */
export interface Consent {
  no: number;
  babyId: string;
  what: ConsentKind;
  /** For a parent: the identifier at sign-in. */
  person: string | null;
  fromMs: number;
  untilMs: number | null;
  /** Who recorded it. */
  givenTo: string | null;
}

const LABEL = `code, kind, baby_id AS babyId, sleeve_no AS sleeve, made_at_ms AS madeAtMs, void_at_ms AS voidAtMs`;
const STAY = 'baby_id AS babyId, cot, from_ms AS fromMs, until_ms AS untilMs';
const FILLING = 'no, bottle, baby_id AS babyId, container, at_ms AS atMs, over_at_ms AS overAtMs';
const BINDING = `no, at_ms AS atMs, baby_id AS babyId, bottle, sleeve_no AS sleeve, container, made_by AS madeBy,
  feed_id AS feedId, over_at_ms AS overAtMs`;
const CONSENT = `no, baby_id AS babyId, what, person, from_ms AS fromMs, until_ms AS untilMs, given_to AS givenTo`;

export const NOTHING_SAID: NextFeeds = { teat: null, study: null, participant: null };

/** Setting under which it is kept what each feed of a child begins with. */
const NEXT = 'ward-feeds';

type BindingLine = Omit<Binding, 'by'> & { madeBy: string | null };
const bindingOf = ({ madeBy, ...line }: BindingLine): Binding => ({ ...line, by: madeBy });

export class WardRecords {
  constructor(private readonly database: FeedDatabase) {}

  #all<T>(sql: string, ...values: unknown[]): T[] {
    return rowsOf<T>(this.database, sql, values);
  }

  #run(sql: string, ...values: unknown[]): number {
    return this.database.prepare(sql).run(...values).changes;
  }

  labels(): Label[] {
    return this.#all<Label>(`SELECT ${LABEL} FROM label ORDER BY made_at_ms, code`);
  }

  label(code: string): Label | null {
    return this.#all<Label>(`SELECT ${LABEL} FROM label WHERE code = ?`, code)[0] ?? null;
  }

  addLabel({ code, kind, babyId, sleeve, madeAtMs }: Omit<Label, 'voidAtMs'>): void {
    this.#run(
      'INSERT INTO label (code, kind, baby_id, sleeve_no, made_at_ms) VALUES (?, ?, ?, ?, ?)',
      ...[code, kind, babyId, sleeve, madeAtMs],
    );
  }

  /** Makes earlier labels of the same child or sleeve invalid. */
  voidLabels({ babyId, sleeve }: { babyId: string | null; sleeve: number | null }, atMs: number): void {
    if (babyId !== null)
      this.#run('UPDATE label SET void_at_ms = ? WHERE baby_id = ? AND void_at_ms IS NULL', atMs, babyId);
    if (sleeve !== null)
      this.#run('UPDATE label SET void_at_ms = ? WHERE sleeve_no = ? AND void_at_ms IS NULL', atMs, sleeve);
  }

  voidLabel(code: string, atMs: number): number {
    return this.#run('UPDATE label SET void_at_ms = ? WHERE code = ? AND void_at_ms IS NULL', atMs, code);
  }

  stays(): Stay[] {
    return this.#all<Stay>(`SELECT ${STAY} FROM stay ORDER BY no`);
  }

  addStay({ babyId, cot, fromMs }: Omit<Stay, 'untilMs'>): void {
    this.#run('INSERT INTO stay (baby_id, cot, from_ms) VALUES (?, ?, ?)', babyId, cot, fromMs);
  }

  endStay(babyId: string, atMs: number): number {
    return this.#run('UPDATE stay SET until_ms = ? WHERE baby_id = ? AND until_ms IS NULL', atMs, babyId);
  }

  /** Fillings of bottles that are still in use. */
  fillings(): Filling[] {
    return this.#all<Filling>(`SELECT ${FILLING} FROM filling WHERE over_at_ms IS NULL ORDER BY no`);
  }

  addFilling({ bottle, babyId, container, atMs }: Omit<Filling, 'no' | 'overAtMs'>): void {
    this.#run(
      'INSERT INTO filling (bottle, baby_id, container, at_ms) VALUES (?, ?, ?, ?)',
      ...[bottle, babyId, container, atMs],
    );
  }

  endFilling(bottle: string, atMs: number): number {
    return this.#run(
      'UPDATE filling SET over_at_ms = ? WHERE bottle = ? AND over_at_ms IS NULL',
      atMs,
      bottle,
    );
  }

  /** Bindings of feeds that are not over. */
  bindings(): Binding[] {
    return this.#all<BindingLine>(`SELECT ${BINDING} FROM binding WHERE over_at_ms IS NULL ORDER BY no`).map(
      bindingOf,
    );
  }

  bindingsBetween(fromMs: number, toMs: number): Binding[] {
    return this.#all<BindingLine>(
      `SELECT ${BINDING} FROM binding WHERE at_ms >= ? AND at_ms < ? ORDER BY no`,
      fromMs,
      toMs,
    ).map(bindingOf);
  }

  /** The one by which a feed began, over or not. */
  bindingOfFeed(feedId: string): Binding | null {
    const [line] = this.#all<BindingLine>(`SELECT ${BINDING} FROM binding WHERE feed_id = ? LIMIT 1`, feedId);
    return line ? bindingOf(line) : null;
  }

  bind({ atMs, babyId, bottle, sleeve, container, by }: Omit<Binding, 'no' | 'feedId' | 'overAtMs'>): void {
    this.#run(
      `INSERT INTO binding (at_ms, baby_id, bottle, sleeve_no, container, made_by) VALUES (?, ?, ?, ?, ?, ?)`,
      ...[atMs, babyId, bottle, sleeve, container, by],
    );
  }

  nameFeed(sleeve: number, feedId: string): number {
    return this.#run(
      'UPDATE binding SET feed_id = ? WHERE sleeve_no = ? AND over_at_ms IS NULL AND feed_id IS NULL',
      feedId,
      sleeve,
    );
  }

  unbind(sleeve: number, atMs: number): number {
    return this.#run(
      'UPDATE binding SET over_at_ms = ? WHERE sleeve_no = ? AND over_at_ms IS NULL',
      atMs,
      sleeve,
    );
  }

  /** The feed of a sleeve is over: the rest in its bottle must not be used for another feed. */
  feedOver(sleeve: number, atMs: number): void {
    for (const bound of this.bindings()) if (bound.sleeve === sleeve) this.endFilling(bound.bottle, atMs);
    this.unbind(sleeve, atMs);
  }

  consents(): Consent[] {
    return this.#all<Consent>(`SELECT ${CONSENT} FROM consent ORDER BY no`);
  }

  addConsent({ babyId, what, person, fromMs, untilMs, givenTo }: Omit<Consent, 'no'>): void {
    this.#run(
      `INSERT INTO consent (baby_id, what, person, from_ms, until_ms, given_to) VALUES (?, ?, ?, ?, ?, ?)`,
      ...[babyId, what, person, fromMs, untilMs, givenTo],
    );
  }

  endConsent(no: number, atMs: number): number {
    return this.#run(
      'UPDATE consent SET until_ms = ? WHERE no = ? AND (until_ms IS NULL OR until_ms > ?)',
      atMs,
      no,
      atMs,
    );
  }

  /** By the child's number; children without such settings are missing. */
  nextFeeds(): Record<string, NextFeeds> {
    const [row] = this.#all<{ json: string }>(
      'SELECT setting_json AS json FROM setting WHERE name = ?',
      NEXT,
    );
    return row ? JSON.parse(row.json) : {};
  }

  sayNextFeeds(babyId: string, said: Partial<NextFeeds>): void {
    const { [babyId]: before = NOTHING_SAID, ...others } = this.nextFeeds();
    const next = { ...before, ...said };
    const isNothing = Object.values(next).every((one) => one === null);
    const all = isNothing ? others : { ...others, [babyId]: next };
    this.#run(replacingSql('setting', ['name'], ['setting_json']), NEXT, JSON.stringify(all));
  }

  /** Deletes a child's records except the audit trail, which names the child only by number. */
  forget(babyId: string): void {
    for (const table of ['stay', 'label', 'filling', 'binding', 'consent'])
      this.#run(`DELETE FROM ${table} WHERE baby_id = ?`, babyId);
    if (Object.hasOwn(this.nextFeeds(), babyId)) this.sayNextFeeds(babyId, NOTHING_SAID);
  }
}

export interface Ward {
  records: WardRecords;
  trail: Trail;
}

/** Runs `act` in one transaction, including its lines in the audit trail. */
export const inWard = <T>(database: FeedDatabase, act: (ward: Ward) => T): T =>
  inTransaction(database, () => act({ records: new WardRecords(database), trail: new Trail(database) }));
