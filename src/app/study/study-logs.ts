/** The logs of a study: who was enrolled, which feeds are sessions, what was done. Lines that are only ever added to; a withdrawal alone rewrites them. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import type { Allocation } from '../../research/study/allocation.ts';
import { replaceFile } from '../../store/disk.ts';
import { WITHDRAWN } from './export/privacy.ts';
import { addLine, linesOf, readLines } from './log-file.ts';

/** A feed of the store that belongs to a participant. */
export interface Session {
  session: string;
  feed: string;
  participant: string;
  arm: string;
  boundAtMs: number;
}

export interface AuditLine {
  atMs: number;
  what:
    | 'begun'
    | 'enrolled'
    | 'bound'
    | 'exported'
    | 'drawn'
    | 'recomputed'
    | 'learned'
    | 'withdrawn'
    | 'closed';
  /** A code or a number, never a name. */
  about: string;
}

const FILES = {
  allocations: 'allocations.jsonl',
  sessions: 'sessions.jsonl',
  audit: 'audit.jsonl',
} as const;

export class StudyLogs {
  constructor(
    private readonly folder: string,
    private readonly nowMs: () => number,
  ) {}

  allocations(): Allocation[] {
    return readLines<Allocation>(this.#path('allocations'));
  }

  sessions(): Session[] {
    return readLines<Session>(this.#path('sessions'));
  }

  auditLines(): AuditLine[] {
    return readLines<AuditLine>(this.#path('audit'));
  }

  allocate(allocation: Allocation): void {
    addLine(this.#path('allocations'), allocation);
    this.audit('enrolled', allocation.participant);
  }

  bind(session: Session): void {
    addLine(this.#path('sessions'), session);
    this.audit('bound', session.session);
  }

  audit(what: AuditLine['what'], about: string): void {
    addLine(this.#path('audit'), { atMs: this.nowMs(), what, about } satisfies AuditLine);
  }

  /** Takes a participant out, also of the audit. @returns the sessions that are gone */
  strike(participant: string): Session[] {
    const sessions = this.sessions();
    const gone = sessions.filter((one) => one.participant === participant);
    const codes = new Set([participant, ...gone.map(({ session }) => session)]);
    // Its place in the allocation order stays used, so that the arms of all others do not change.
    const allocations = this.allocations().map((one) =>
      one.participant === participant ? { ...one, participant: WITHDRAWN, atMs: 0 } : one,
    );
    const audit = this.auditLines().filter(({ about }) => !codes.has(about));
    this.#rewrite(
      'sessions',
      sessions.filter((one) => one.participant !== participant),
    );
    this.#rewrite('allocations', allocations);
    this.#rewrite('audit', audit);
    return gone;
  }

  #path(log: keyof typeof FILES): string {
    return join(this.folder, FILES[log]);
  }

  #rewrite(log: keyof typeof FILES, lines: readonly object[]): void {
    replaceFile(fs, this.#path(log), (fd) => void fs.writeSync(fd, linesOf(lines)));
  }
}
