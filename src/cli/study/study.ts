/** `ebbline study …`: the research commands. */
import { readFileSync } from 'node:fs';
import { closeStudy } from '../../app/study/blinding.ts';
import { WITHDRAWN } from '../../app/study/export/privacy.ts';
import { withdrawParticipant } from '../../app/study/handed-out.ts';
import { learnedText } from '../../app/study/learned-text.ts';
import { EXAMPLE_PROTOCOL } from '../../app/study/protocol-file.ts';
import { STUDY_CLOCK as CLOCK, StudyFolder, studiesAmong } from '../../app/study/study-folder.ts';
import { whatIsLearned } from '../../app/study/what-is-learned.ts';
import { PlainError } from '../../base/errors.ts';
import type { SideFiles } from '../../store/side-files.ts';
import { say, sayJson } from '../print-out.ts';
import { withFiles, withStore } from '../with-store.ts';
import { oneByOne } from './one-by-one.ts';
import { opened, type Simulated, withStudy } from './opened.ts';

/** @throws PlainError study-file, study-protocol, study-exists */
export async function newCommand(file: string, options: Simulated): Promise<void> {
  const given = readJson(file);
  const { protocol } = await withFiles(options, (files) =>
    StudyFolder.begin(studiesAmong(files), given, CLOCK),
  );
  say([
    `Study ${protocol.code} has begun: ${protocol.title}.`,
    ...(protocol.arms.some(({ cues }) => cues === 'logged')
      ? [
          'The protocol withholds cues in an arm: they are decided and kept, not shown, where “Before a feed” names the participant.',
          'Signs of stress are always shown, whoever feeds can show the cues at any time, and screening holds back what it holds back.',
        ]
      : []),
    `Next: ebbline study enroll ${protocol.code} CODE`,
  ]);
}

/** What a study fixes before its first feed. */
export function exampleCommand(): void {
  sayJson(EXAMPLE_PROTOCOL);
}

function readJson(file: string): unknown {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch (cause) {
    throw new PlainError(
      'study-file',
      `The protocol ${file} cannot be read as JSON.`,
      'Check the name and the commas; "ebbline study example" prints a protocol to start from.',
      { cause },
    );
  }
}

export const listCommand = (options: Simulated & { json?: boolean }): Promise<void> =>
  withFiles(options, (files) => tellStudies(files, options));

function tellStudies(files: SideFiles, options: { json?: boolean }): void {
  const { open, setAside } = StudyFolder.all(studiesAmong(files), CLOCK);
  const studies = open.map((study) => ({
    code: study.protocol.code,
    title: study.protocol.title,
    participants: study.allocations().filter(({ participant }) => participant !== WITHDRAWN).length,
    sessions: study.sessions().length,
  }));
  if (options.json) {
    const unreadable = setAside.map(({ code, error }) => ({ code, setAside: error.message }));
    return void sayJson([...studies, ...unreadable]);
  }
  if (studies.length + setAside.length === 0) return void say('No study has been begun.');
  say([
    ...studies.map(
      ({ code, title, participants, sessions }) =>
        `${code.padEnd(20)} participants ${String(participants).padStart(4)}, sessions ${String(sessions).padStart(5)}  ${title}`,
    ),
    ...setAside.map(({ code, error }) => `set aside: ${code}, ${error.text}`),
  ]);
}

/** If the program itself applies the arms, the person who enrolls need not see them; if people do, they must. */
const hidesArms = ({ arms }: { arms: readonly { cues: string }[] }): boolean =>
  arms.some(({ cues }) => cues === 'logged');

/** @throws PlainError like enrolling; some-set-aside */
export const enrollCommand = (
  code: string,
  participants: readonly string[],
  options: Simulated & { stratum: string },
): Promise<void> =>
  withStudy(code, options, (study) =>
    oneByOne(participants, (participant) => {
      const { arm, number, stratum } = study.enroll(participant, options.stratum);
      return `Participant ${participant} is number ${number} in stratum ${stratum}${hidesArms(study.protocol) ? '; the arm is drawn, and told when the study is closed' : `, arm ${arm}`}.`;
    }),
  );

/** @throws PlainError feed-unknown, participant-unknown, session-twice, some-set-aside */
export async function bindCommand(
  code: string,
  participant: string,
  feeds: readonly string[],
  options: Simulated,
): Promise<void> {
  await withStore(options, (store) => {
    const study = opened(code, store.files);
    oneByOne(feeds, (feed) => {
      if (store.get(feed) === null) {
        throw new PlainError(
          'feed-unknown',
          `There is no kept feed ${feed}.`,
          'List them with "ebbline feeds".',
        );
      }
      // Without the arm, because of blinding.
      return `Feed ${feed} is session ${study.bind(feed, participant).session}.`;
    });
  });
}

/** @throws PlainError study-asks-otherwise */
export async function learnedCommand(code: string, participant: string, options: Simulated): Promise<void> {
  await withStore(options, (store) => {
    const study = opened(code, store.files);
    say(learnedText(whatIsLearned(study, store, participant, CLOCK.nowMs())));
  });
}

/** @throws PlainError study-unknown, study-closed */
export async function closeCommand(code: string, options: Simulated): Promise<void> {
  await withStudy(code, options, closeStudy);
  say(`Study ${code} is closed. Exports and figures name its arms from now on; nobody joins any more.`);
}

/** @throws PlainError study-unknown */
export const withdrawCommand = (code: string, participant: string, options: Simulated): Promise<void> =>
  withStudy(code, options, (study) => withdraw(study, participant));

function withdraw(study: StudyFolder, participant: string): void {
  const { code } = study.protocol;
  if (!study.allocations().some((one) => one.participant === participant)) {
    throw new PlainError(
      'participant-unknown',
      `Participant ${participant} is not in study ${code}.`,
      'Check the code. Nothing was changed.',
    );
  }
  const { sessions, deleted, notFound } = withdrawParticipant(study, participant);
  say([
    `Participant ${participant} with ${sessions === 1 ? '1 session' : `${sessions} sessions`} is out of study ${code}, and of all that was computed of it.`,
    ...deleted.map((folder) => `Deleted, since it told of the participant: what Ebbline made in ${folder}`),
    ...notFound.map((folder) => `Not there any more, delete its copies yourself: ${folder}`),
    'Copies that were handed on are elsewhere: have those deleted, and export anew.',
  ]);
}

/** @throws PlainError study-unknown */
export async function auditCommand(code: string, options: Simulated & { json?: boolean }): Promise<void> {
  const lines = await withStudy(code, options, (study) => study.auditLines());
  if (options.json) return void sayJson(lines);
  say(lines.map(({ atMs, what, about }) => `${new Date(atMs).toISOString()}  ${what.padEnd(11)} ${about}`));
}
