/** List of files exported from a study to other folders, so that a participant who withdraws can be removed from them too. */
import * as fs from 'node:fs';
import { dirname, join } from 'node:path';
import { PlainError } from '../../base/errors.ts';
import { addLine, linesOf, readLines } from './log-file.ts';
import type { StudyFolder } from './study-folder.ts';

/** In the folder of the study. */
export const HANDED_OUT = 'handed-out.jsonl';

interface HandedOut {
  folder: string;
  /** Files made by Ebbline, relative to the folder. */
  files: string[];
  participants: string[];
}

/** Adds all files in `folder` to the list. */
export function noteHandedOut(study: StudyFolder, folder: string, participants: Iterable<string>): void {
  const files = fs
    .readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => fs.statSync(join(folder, name)).isFile())
    .sort();
  const line: HandedOut = { folder, files, participants: [...new Set(participants)].sort() };
  addLine(study.files, HANDED_OUT, line);
}

export interface Withdrawal {
  sessions: number;
  /** Folders whose files made by Ebbline were deleted, since they contained the participant. */
  deleted: string[];
  /** Folders that are no longer where they were. */
  notFound: string[];
}

/** Removes a participant for good: from the study, its results, and its exported files. @throws PlainError participant-unknown */
export function withdrawParticipant(study: StudyFolder, participant: string): Withdrawal {
  if (!study.allocations().some((one) => one.participant === participant)) {
    throw new PlainError(
      'participant-unknown',
      `Participant ${participant} is not in study ${study.protocol.code}.`,
      'Check the code. Nothing was changed.',
    );
  }
  const lines = readLines<HandedOut>(study.files, HANDED_OUT);
  const telling = lines.filter(({ participants }) => participants.includes(participant));
  const deleted: string[] = [];
  const notFound: string[] = [];
  for (const { folder, files } of telling) {
    if (!fs.existsSync(folder)) {
      notFound.push(folder);
      continue;
    }
    for (const file of files) fs.rmSync(join(folder, file), { force: true });
    removeEmpty(folder, files);
    deleted.push(folder);
  }
  const rest = lines.filter((line) => !telling.includes(line));
  study.files.replace(HANDED_OUT, linesOf(rest));
  return { sessions: study.withdraw(participant), deleted, notFound };
}

/** Removes the folder only if it is empty; other people's files stay. */
function removeEmpty(folder: string, files: readonly string[]): void {
  const inner = [...new Set(files.map((file) => dirname(file)))].filter((name) => name !== '.');
  for (const path of [
    ...inner
      .sort()
      .reverse()
      .map((name) => join(folder, name)),
    folder,
  ])
    if (fs.existsSync(path) && fs.readdirSync(path).length === 0) fs.rmdirSync(path);
}
