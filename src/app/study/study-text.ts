/** What the commands of research say. */
import { counted } from '../../base/counted.ts';
import { participantsFor } from '../../research/statistics/effects.ts';
import type { Allocation } from '../../research/study/allocation.ts';
import type { Protocol } from '../../research/study/protocol.ts';
import { WITHDRAWN } from './export/privacy.ts';
import type { StudyExport } from './export/study-export.ts';
import type { DrawnStudy } from './figures/draw-study.ts';
import type { Withdrawal } from './handed-out.ts';
import { movedText } from './recompute/moved-text.ts';
import type { Recomputed } from './recompute/recompute.ts';
import type { ListedAside } from './sessions/set-aside-list.ts';
import { SET_ASIDE } from './sessions/set-aside-words.ts';
import type { StudyFolder, UnreadableStudy } from './study-folder.ts';
import type { AuditLine } from './study-records.ts';

const withholdsCues = ({ arms }: Protocol): boolean => arms.some(({ cues }) => cues === 'logged');

export const begunText = (protocol: Protocol) => [
  `Study ${protocol.code} has begun: ${protocol.title}.`,
  ...(withholdsCues(protocol)
    ? [
        'The protocol withholds cues in an arm: they are decided and kept, not shown, where “Before a feed” names the participant.',
        'Signs of stress are always shown, whoever feeds can show the cues at any time, and screening holds back what it holds back.',
      ]
    : []),
  `Next: ebbline study enroll ${protocol.code} CODE`,
];

const listedStudy = (study: StudyFolder) => ({
  code: study.protocol.code,
  title: study.protocol.title,
  participants: study.allocations().filter(({ participant }) => participant !== WITHDRAWN).length,
  sessions: study.sessions().length,
});

/** As JSON. */
export const listedStudies = (open: readonly StudyFolder[], setAside: readonly UnreadableStudy[]) => [
  ...open.map(listedStudy),
  ...setAside.map(({ code, error }) => ({ code, setAside: error.message })),
];

export const studiesText = (open: readonly StudyFolder[], setAside: readonly UnreadableStudy[]): string[] =>
  open.length + setAside.length === 0
    ? ['No study has been begun.']
    : [
        ...open
          .map(listedStudy)
          .map(
            ({ code, title, participants, sessions }) =>
              `${code.padEnd(20)} participants ${String(participants).padStart(4)}, sessions ${String(sessions).padStart(5)}  ${title}`,
          ),
        ...setAside.map(({ code, error }) => `set aside: ${code}, ${error.text}`),
      ];

/** If the program itself applies the arms, the person who enrolls need not see them; if people do, they must. */
export function enrolledText(protocol: Protocol, { participant, number, stratum, arm }: Allocation): string {
  const drawn = withholdsCues(protocol)
    ? '; the arm is drawn, and told when the study is closed'
    : `, arm ${arm}`;
  return `Participant ${participant} is number ${number} in stratum ${stratum}${drawn}.`;
}

export const withdrawnText = (
  code: string,
  participant: string,
  { sessions, deleted, notFound }: Withdrawal,
): string[] => [
  `Participant ${participant} with ${counted(sessions, 'session')} is out of study ${code}, and of all that was computed of it.`,
  ...deleted.map((folder) => `Deleted, since it told of the participant: what Ebbline made in ${folder}`),
  ...notFound.map((folder) => `Not there any more, delete its copies yourself: ${folder}`),
  'Copies that were handed on are elsewhere: have those deleted, and export anew.',
];

export const studyExportText = ({ sessions, folder, setAside, smallCells, named }: StudyExport) => [
  `${sessions} sessions exported to ${folder}`,
  ...setAsideLines(setAside),
  named.length > 0 &&
    `A name of a baby or a caregiver stands in ${named.join(', ')}: read it once more before it goes to anybody.`,
  smallCells.length > 0 && `Few participants, who might be recognized: ${smallCells.join('; ')}.`,
];

export const closedText = ({ code }: Protocol): string =>
  `Study ${code} is closed. Exports and figures name its arms from now on; nobody joins any more.`;

export const auditText = (lines: readonly AuditLine[]): string[] =>
  lines.map(({ atMs, what, about }) => `${new Date(atMs).toISOString()}  ${what.padEnd(11)} ${about}`);

export function sizeText(sd: number, half: number): string {
  const each = participantsFor(sd, half);
  return each === null
    ? 'More than 100,000 participants in each arm.'
    : `${each} participants in each arm, for a difference that is known to ± ${half} (95 %) where participants vary by ${sd}.`;
}

export const figuresText = ({ files, sessions, setAside }: DrawnStudy, folder: string, blinded: boolean) => [
  `${files} files of ${sessions} sessions in ${folder}`,
  blinded && 'Arms are coded until the study is closed.',
  ...setAsideLines(setAside),
];

export const NOBODY_WORKS =
  'Nothing was computed yet. It is done by "ebbline work" of this very program on this database; meanwhile this waits. Ctrl-C ends it; given again, it goes on.';

export const recomputedText = (done: Recomputed, version: string) => [
  `${done.sessions} sessions computed by version ${version}, ${(done.lengthSec / 3600).toFixed(1)} h of feeds, in ${done.folder}`,
  done.isResumed && 'Went on where it was cut before.',
  ...movedText(done),
  ...setAsideLines(done.setAside),
];

const setAsideLines = (setAside: readonly ListedAside[]): string[] =>
  setAside.map(({ session, why }) => `set aside: ${session}, ${SET_ASIDE[why]}`);
