/**
 * A study on disk: protocol, key of the allocation and logs, each a file of its own.
 */

import { randomInt } from 'node:crypto';
import * as fs from 'node:fs';
import { join } from 'node:path';
import { PlainError } from '../../base/errors.ts';
import { Random } from '../../base/random.ts';
import { ownJson } from '../../base/typed.ts';
import { type Allocation, allocate, armOfFeed } from '../../research/study/allocation.ts';
import { code, type Protocol } from '../../research/study/protocol.ts';
import { replaceFile } from '../../store/disk.ts';
import { refuseClosed } from './blinding.ts';
import { protocolFrom, readProtocol } from './protocol-file.ts';
import { forgetSessions } from './recompute/runs.ts';
import { type AuditLine, type Session, StudyLogs } from './study-logs.ts';
import { forgetLearned } from './what-is-learned.ts';

/** Of another version, or damaged. */
export interface UnreadableStudy {
  code: string;
  error: PlainError;
}

const FILES = {
  protocol: 'protocol.json',
  key: 'allocation-key.json',
} as const;

export interface StudyClock {
  nowMs: () => number;
  /** An unpredictable whole number. */
  drawSeed: () => number;
}

export const STUDY_CLOCK: StudyClock = { nowMs: () => Date.now(), drawSeed: () => randomInt(2 ** 47) };

/** The folder of all studies in a data folder. */
export const studiesIn = (folder: string): string => join(folder, 'studies');

export class StudyFolder {
  readonly protocol: Protocol;
  readonly #folder: string;
  readonly #clock: StudyClock;
  readonly #logs: StudyLogs;

  private constructor(folder: string, protocol: Protocol, clock: StudyClock) {
    this.#folder = folder;
    this.protocol = protocol;
    this.#clock = clock;
    this.#logs = new StudyLogs(folder, clock.nowMs);
  }

  /** @param studies folder of all studies @throws PlainError study-protocol, study-exists */
  static begin(studies: string, given: unknown, clock: StudyClock): StudyFolder {
    const protocol = protocolFrom(given);
    const folder = join(studies, protocol.code);
    if (fs.existsSync(folder)) {
      throw new PlainError(
        'study-exists',
        `There is a study ${protocol.code} already, in ${folder}.`,
        'Give the protocol another code.',
      );
    }
    fs.mkdirSync(folder, { recursive: true, mode: 0o700 });
    const study = new StudyFolder(folder, protocol, clock);
    study.#write(FILES.key, `${JSON.stringify({ seed: clock.drawSeed() })}\n`);
    study.#write(FILES.protocol, `${JSON.stringify(protocol, null, 2)}\n`);
    study.audit('begun', protocol.code);
    return study;
  }

  /** @throws PlainError study-unknown, study-newer, study-damaged */
  static open(studies: string, named: string, clock: StudyClock): StudyFolder {
    const folder = join(studies, named);
    return new StudyFolder(folder, readProtocol(join(folder, FILES.protocol), named, studies), clock);
  }

  /** @returns the codes of all studies there */
  static codes(studies: string): string[] {
    if (!fs.existsSync(studies)) return [];
    return fs.readdirSync(studies).filter((name) => fs.existsSync(join(studies, name, FILES.protocol)));
  }

  /** @returns the readable studies, and the reasons for the others */
  static all(studies: string, clock: StudyClock): { open: StudyFolder[]; setAside: UnreadableStudy[] } {
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

  allocations = (): Allocation[] => this.#logs.allocations();
  sessions = (): Session[] => this.#logs.sessions();
  auditLines = (): AuditLine[] => this.#logs.auditLines();
  audit = (what: AuditLine['what'], about: string): void => this.#logs.audit(what, about);

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
    const allocation = allocate(
      this.protocol,
      this.#seed(),
      this.allocations(),
      participant,
      stratum,
      this.#clock.nowMs(),
    );
    this.#logs.allocate(allocation);
    return allocation;
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
    this.#logs.bind(session);
    return session;
  }

  get folder(): string {
    return this.#folder;
  }

  /** The list of exported files. */
  get handedOut(): string {
    return join(this.#folder, 'handed-out.jsonl');
  }

  /** The folder of recomputations. */
  get recomputed(): string {
    return join(this.#folder, 'recomputed');
  }

  /** Removes a participant from the logs and from all recomputations. What was exported before is not ours to reach. @returns sessions removed */
  withdraw(participant: string): number {
    const gone = this.#logs.strike(participant);
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
    const { seed } = ownJson<{ seed: number }>(fs.readFileSync(join(this.#folder, FILES.key), 'utf8'));
    return seed;
  }

  #write(name: string, text: string): void {
    replaceFile(fs, join(this.#folder, name), (fd) => void fs.writeSync(fd, text));
  }
}

const nextNumber = (sessions: readonly Session[], participant: string): number =>
  sessions.filter((one) => one.participant === participant).length + 1;
