/** Answers of the study pages, and the interface of their service. Types only. */
import type { SetAside } from '../../../research/study/eligible.ts';

export interface ListedStudy {
  code: string;
  title: string;
  participants: number;
  sessions: number;
  isClosed: boolean;
}

/** A study of another version, or a damaged one: it is reported and left out. */
export interface StudySetAside {
  code: string;
  why: 'newer' | 'damaged';
}

export interface StudyList {
  studies: ListedStudy[];
  setAside: StudySetAside[];
}

export interface StudySession {
  session: string;
  participant: string;
  /** Coded until the study is closed. */
  arm: string;
  /** Null if not computed yet, or if the session is set aside. */
  lengthMin: number | null;
  intakeMl: number | null;
  /** Share of good rows among those with the nipple in the mouth, %. */
  goodPercent: number | null;
  setAside: SetAside | null;
}

export interface StratumBalance {
  stratum: string;
  enrolled: number;
  /** Participants by arm; null until the study is closed, since counting would reveal the next arm. */
  arms: { arm: string; count: number }[] | null;
}

export interface StudyAnswer extends ListedStudy {
  /** Arms are coded. */
  isBlinded: boolean;
  /** Cues are withheld in one of the arms. */
  withholds: boolean;
  /** The recomputation behind the numbers; null before the first. */
  computedBy: { run: string; softwareVersion: string } | null;
  hasCurves: boolean;
  sessions: number;
  /** Sessions that are not told of here, since their families do not let them be; 0 at home. */
  notShared: number;
  list: StudySession[];
  balance: StratumBalance[];
  /** Largest difference in number between two arms of a stratum; null without allocation. */
  furthestApart: number | null;
}

export interface AskedCurves {
  widthPx: number;
  /** Requested language; English if it is unknown. */
  language?: unknown;
}

/** All throw PlainErrors that the page shows. */
export interface StudyService {
  studies(): StudyList;
  study(code: string): StudyAnswer;
  /** An SVG document. */
  curves(code: string, asked: AskedCurves): string | Promise<string>;
}
