/** What the pages of studies are answered, and who answers. Types only. */
import type { SetAside } from '../../../research/study/eligible.ts';

export interface ListedStudy {
  code: string;
  title: string;
  participants: number;
  sessions: number;
  isClosed: boolean;
}

/** A study of another version, or a damaged one: it is told and set aside. */
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
  /** Null until it was computed, and where it is set aside. */
  lengthMin: number | null;
  intakeMl: number | null;
  /** Of the rows with the nipple in the mouth. */
  goodPercent: number | null;
  setAside: SetAside | null;
}

export interface StratumBalance {
  stratum: string;
  enrolled: number;
  /** Participants by arm; null until the study is closed, since whoever counts could tell the next arm. */
  arms: { arm: string; count: number }[] | null;
}

export interface StudyAnswer extends ListedStudy {
  /** Arms are coded. */
  isBlinded: boolean;
  /** Cues are withheld in an arm. */
  withholds: boolean;
  /** The recomputation that the numbers are from; null before the first. */
  computedBy: { run: string; softwareVersion: string } | null;
  hasCurves: boolean;
  sessions: number;
  /** Sessions that are not told of here, since their families do not let them be; 0 at home. */
  notShared: number;
  list: StudySession[];
  balance: StratumBalance[];
  /** No two arms of a stratum are ever further apart than this; null without allocation. */
  furthestApart: number | null;
}

export interface AskedCurves {
  widthPx: number;
  /** As it was asked for; English where it is none of ours. */
  language?: unknown;
}

/** All throw PlainErrors that the page shows. */
export interface StudyService {
  studies(): StudyList;
  study(code: string): StudyAnswer;
  /** An SVG document. */
  curves(code: string, asked: AskedCurves): string | Promise<string>;
}
