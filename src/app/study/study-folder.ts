/**
 * A study as it is stored: protocol, allocation log, sessions, audit log, and the key of the allocation, each a file of its own.
 * Logs are append-only; only a withdrawal rewrites them.
 */
import { randomInt } from 'node:crypto';
import { PlainError } from '../../base/errors.ts';
import { Random } from '../../base/random.ts';
import { ownJson } from '../../base/typed.ts';
import { type Allocation, allocate, armOfFeed } from '../../research/study/allocation.ts';
import { code, type Protocol } from '../../research/study/protocol.ts';
import type { SideFiles } from '../../store/side-files.ts';
import { refuseClosed } from './blinding.ts';
import { WITHDRAWN } from './export/privacy.ts';
import { addLine, linesOf, readLines } from './log-file.ts';
import { PROTOCOL_FILE, protocolFrom, readProtocol } from './protocol-file.ts';
import { forgetSessions } from './recompute/runs.ts';
import type { AuditLine, Session } from './study-records.ts';
import { forgetLearned } from './what-is-learned.ts';

/** A study of another version, or a damaged one. */
export interface UnreadableStudy {
  code: string;
  error: PlainError;
}

const FILES = {
  protocol: PROTOCOL_FILE,
  key: 'allocation-key.json',
  allocations: 'allocations.jsonl',
  sessions: 'sessions.jsonl',
  audit: 'audit.jsonl',
} as const;

export interface StudyClock {
  nowMs: () => number;
  /** An unpredictable whole number. */
  drawSeed: () => number;
}

export const STUDY_CLOCK: StudyClock = { nowMs: () => Date.now(), drawSeed: () => randomInt(2 ** 47) };

/** The files of all studies. */
export const studiesAmong = (files: SideFiles): SideFiles => files.within('studies');

/** @param files  those beside the feeds @throws PlainError study-unknown, study-newer, study-damaged */
export const openedStudy = (files: SideFiles, code: string): StudyFolder =>
  StudyFolder.open(studiesAmong(files), code, STUDY_CLOCK);

export class StudyFolder {
  readonly protocol: Protocol;
  readonly files: SideFiles;
  readonly #clock: StudyClock;

  private constructor(files: SideFiles, protocol: Protocol, clock: StudyClock) {
    this.files = files;
    this.protocol = protocol;
    this.#clock = clock;
  }

  /** @param studies files of all studies @throws PlainError study-protocol, study-exists */
  static begin(studies: SideFiles, given: unknown, clock: StudyClock): StudyFolder {
    const protocol = protocolFrom(given);
    const files = studies.within(protocol.code);
    if (files.names().length > 0) {
      throw new PlainError(
        'study-exists',
        `There is a study ${protocol.code} already, in ${files.where()}.`,
        'Give the protocol another code.',
      );
    }
    const study = new StudyFolder(files, protocol, clock);
    files.replace(FILES.key, `${JSON.stringify({ seed: clock.drawSeed() })}\n`);
    files.replace(FILES.protocol, `${JSON.stringify(protocol, null, 2)}\n`);
    study.audit('begun', protocol.code);
    return study;
  }

  /** @throws PlainError study-unknown, study-newer, study-damaged */
  static open(studies: SideFiles, named: string, clock: StudyClock): StudyFolder {
    return new StudyFolder(studies.within(named), readProtocol(studies, named), clock);
  }

  /** @returns the codes of all studies there */
  static codes(studies: SideFiles): string[] {
    return studies.names().filter((name) => studies.within(name).has(FILES.protocol));
  }

  /** @returns the readable studies, and the reasons for the others */
  static all(studies: SideFiles, clock: StudyClock): { open: StudyFolder[]; setAside: UnreadableStudy[] } {
    const setAside: UnreadableStudy[] = [];
    const open = StudyFolder.codes(studies).flatMap((code) => {
      try {
        const study = StudyFolder.open(studies, code, clock);
        study.allocations();
        study.sessions();
        study.auditLines();
        return [study];
      } catch (error) {
        if (!(error instanceof PlainError)) throw error;
        setAside.push({ code, error });
        return [];
      }
    });
    return { open, setAside };
  }

  allocations(): Allocation[] {
    return readLines<Allocation>(this.files, FILES.allocations);
  }

  sessions(): Session[] {
    return readLines<Session>(this.files, FILES.sessions);
  }

  auditLines(): AuditLine[] {
    return readLines<AuditLine>(this.files, FILES.audit);
  }

  /** @throws PlainError study-closed, participant-code, participant-twice, stratum-unknown, allocation-used-up */
  enroll(participant: string, stratum: string): Allocation {
    refuseClosed(this);
    if (!code.safeParse(participant).success) {
      throw new PlainError(
        'participant-code',
        `"${participant}" is no code of a participant.`,
        'Use 1 to 20 letters, digits or hyphens, such as F07; never a name.',
      );
    }
    return this.files.together(() => {
      const before = this.allocations();
      const nowMs = this.#clock.nowMs();
      const allocation = allocate(this.protocol, this.#seed(), before, participant, stratum, nowMs);
      addLine(this.files, FILES.allocations, allocation);
      this.audit('enrolled', participant);
      return allocation;
    });
  }

  /** The arm of the participant's next feed. @throws PlainError participant-unknown */
  nextArm(participant: string): Protocol['arms'][number] {
    const code = this.#armFor(participant, nextNumber(this.sessions(), participant));
    return this.protocol.arms.find((one) => one.code === code)!;
  }

  #armFor(participant: string, number: number): string {
    const allocation = this.allocations().findLast((one) => one.participant === participant);
    if (!allocation) {
      throw new PlainError(
        'participant-unknown',
        `Participant ${participant} is not in the study.`,
        `Enroll first: ebbline study enroll ${this.protocol.code} ${participant}`,
      );
    }
    return this.protocol.allocation?.unit === 'feed'
      ? armOfFeed(this.protocol, this.#seed(), participant, number)
      : allocation.arm;
  }

  /** @throws PlainError study-closed, participant-unknown, session-twice */
  bind(feed: string, participant: string): Session {
    refuseClosed(this);
    return this.files.together(() => this.#bound(feed, participant));
  }

  #bound(feed: string, participant: string): Session {
    const sessions = this.sessions();
    const number = nextNumber(sessions, participant);
    const arm = this.#armFor(participant, number);
    const twice = sessions.find((one) => one.feed === feed);
    if (twice) {
      throw new PlainError(
        'session-twice',
        `Feed ${feed} is session ${twice.session} of participant ${twice.participant} already.`,
        'A feed belongs to one session. Nothing was changed.',
      );
    }
    const session: Session = {
      session: `${participant}-${String(number).padStart(3, '0')}`,
      feed,
      participant,
      arm,
      boundAtMs: this.#clock.nowMs(),
    };
    addLine(this.files, FILES.sessions, session);
    this.audit('bound', session.session);
    return session;
  }

  /** Files of the recomputations. */
  get recomputed(): SideFiles {
    return this.files.within('recomputed');
  }

  /** Removes a participant from the logs, also from the audit, and from all recomputations. Files exported earlier cannot be changed here. @returns sessions removed */
  withdraw(participant: string): number {
    return this.files.together(() => this.#withdrawn(participant));
  }

  #withdrawn(participant: string): number {
    const sessions = this.sessions();
    const gone = sessions.filter((one) => one.participant === participant);
    const codes = new Set([participant, ...gone.map(({ session }) => session)]);
    // Its place in the allocation order stays used, so that the arms of all others do not change.
    const allocations = this.allocations().map((one) =>
      one.participant === participant ? { ...one, participant: WITHDRAWN, atMs: 0 } : one,
    );
    this.files.replace(FILES.sessions, linesOf(sessions.filter((one) => one.participant !== participant)));
    this.files.replace(FILES.allocations, linesOf(allocations));
    this.files.replace(FILES.audit, linesOf(this.auditLines().filter(({ about }) => !codes.has(about))));
    forgetLearned(this, participant);
    forgetSessions(this.recomputed, new Set(gone.map(({ session }) => session)));
    this.audit('withdrawn', 'one participant');
    return gone.length;
  }

  /** Random numbers of this study for other purposes than its allocation; they do not reveal the allocation. */
  random(about: string): Random {
    return new Random(this.#seed(), `${this.protocol.code}: ${about}`);
  }

  #seed(): number {
    const { seed } = ownJson<{ seed: number }>(this.files.read(FILES.key)!.toString());
    return seed;
  }

  audit(what: AuditLine['what'], about: string): void {
    addLine(this.files, FILES.audit, { atMs: this.#clock.nowMs(), what, about } satisfies AuditLine);
  }
}

const nextNumber = (sessions: readonly Session[], participant: string): number =>
  sessions.filter((one) => one.participant === participant).length + 1;
