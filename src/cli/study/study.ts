/** `ebbline study …`: the research commands. */
import { keptFeed } from '../../app/review/kept-feed.ts';
import { closeStudy } from '../../app/study/blinding.ts';
import { withdrawParticipant } from '../../app/study/handed-out.ts';
import { learnedText } from '../../app/study/learned-text.ts';
import { EXAMPLE_PROTOCOL, givenProtocol } from '../../app/study/protocol-file.ts';
import { STUDY_CLOCK as CLOCK, StudyFolder, studiesAmong } from '../../app/study/study-folder.ts';
import * as text from '../../app/study/study-text.ts';
import { whatIsLearned } from '../../app/study/what-is-learned.ts';
import { answer, say } from '../print-out.ts';
import { type Kept, withFiles, withStore } from '../with-store.ts';
import { oneByOne } from './one-by-one.ts';
import { opened, withStudy } from './opened.ts';

type Listed = Kept & { json?: boolean };

/** @throws PlainError study-file, study-protocol, study-exists */
export async function newCommand(file: string, options: Kept): Promise<void> {
  const given = givenProtocol(file);
  await withFiles(options, (files) =>
    say(text.begunText(StudyFolder.begin(studiesAmong(files), given, CLOCK).protocol)),
  );
}

/** What a study fixes before its first feed. */
export const exampleCommand = (): void => answer(true, EXAMPLE_PROTOCOL, () => []);

export const listCommand = (options: Listed): Promise<void> =>
  withFiles(options, (files) => {
    const { open, setAside } = StudyFolder.all(studiesAmong(files), CLOCK);
    const unreadable = setAside.map(({ code, error }) => ({ code, setAside: error.message }));
    answer(options.json, [...open.map(text.listedStudy), ...unreadable], () =>
      text.studiesText(open, setAside),
    );
  });

/** @throws PlainError like enrolling; some-set-aside */
export const enrollCommand = (
  code: string,
  participants: readonly string[],
  options: Kept & { stratum: string },
): Promise<void> =>
  withStudy(code, options, (study) =>
    oneByOne(participants, (participant) =>
      text.enrolledText(study.protocol, study.enroll(participant, options.stratum)),
    ),
  );

/** @throws PlainError feed-unknown, participant-unknown, session-twice, some-set-aside */
export const bindCommand = (
  code: string,
  participant: string,
  feeds: readonly string[],
  options: Kept,
): Promise<void> =>
  withStore(options, (store) => {
    const study = opened(code, store.files);
    // Without the arm, because of blinding.
    oneByOne(
      feeds,
      (feed) => `Feed ${feed} is session ${study.bind(keptFeed(store, feed).id, participant).session}.`,
    );
  });

/** @throws PlainError study-asks-otherwise */
export const learnedCommand = (code: string, participant: string, options: Kept): Promise<void> =>
  withStore(options, (store) => {
    const study = opened(code, store.files);
    say(learnedText(whatIsLearned(study, store, participant, CLOCK.nowMs())));
  });

/** @throws PlainError study-unknown, study-closed */
export async function closeCommand(code: string, options: Kept): Promise<void> {
  await withStudy(code, options, closeStudy);
  say(`Study ${code} is closed. Exports and figures name its arms from now on; nobody joins any more.`);
}

/** @throws PlainError study-unknown, participant-unknown */
export const withdrawCommand = (code: string, participant: string, options: Kept): Promise<void> =>
  withStudy(code, options, (study) =>
    say(text.withdrawnText(code, participant, withdrawParticipant(study, participant))),
  );

/** @throws PlainError study-unknown */
export const auditCommand = (code: string, options: Listed): Promise<void> =>
  withStudy(code, options, (study) =>
    answer(options.json, study.auditLines(), (lines) =>
      lines.map(({ atMs, what, about }) => `${new Date(atMs).toISOString()}  ${what.padEnd(11)} ${about}`),
    ),
  );
