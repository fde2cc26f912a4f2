/** `ebbline study …`: what the commands of research do. */
import { keptFeed } from '../../app/review/kept-feed.ts';
import { closeStudy } from '../../app/study/blinding.ts';
import { withdrawParticipant } from '../../app/study/handed-out.ts';
import { learnedText } from '../../app/study/learned-text.ts';
import { EXAMPLE_PROTOCOL, givenProtocol } from '../../app/study/protocol-file.ts';
import { STUDY_CLOCK as CLOCK, StudyFolder } from '../../app/study/study-folder.ts';
import * as text from '../../app/study/study-text.ts';
import { whatIsLearned } from '../../app/study/what-is-learned.ts';
import { answer, say } from '../print-out.ts';
import { type Kept, withStore } from '../with-store.ts';
import { oneByOne } from './one-by-one.ts';
import { opened, studiesOf } from './opened.ts';

type Listed = Kept & { json?: boolean };

/** @throws PlainError study-file, study-protocol, study-exists */
export function newCommand(file: string, options: Kept): void {
  say(text.begunText(StudyFolder.begin(studiesOf(options), givenProtocol(file), CLOCK).protocol));
}

/** What a study fixes before its first feed. */
export const exampleCommand = (): void => answer(true, EXAMPLE_PROTOCOL, () => []);

export function listCommand(options: Listed): void {
  const { open, setAside } = StudyFolder.all(studiesOf(options), CLOCK);
  const unreadable = setAside.map(({ code, error }) => ({ code, setAside: error.message }));
  answer(options.json, [...open.map(text.listedStudy), ...unreadable], () =>
    text.studiesText(open, setAside),
  );
}

/** @throws PlainError those of enrolling, some-set-aside */
export function enrollCommand(
  code: string,
  participants: readonly string[],
  options: Kept & { stratum: string },
): void {
  const study = opened(code, options);
  oneByOne(participants, (participant) =>
    text.enrolledText(study.protocol, study.enroll(participant, options.stratum)),
  );
}

/** @throws PlainError feed-unknown, participant-unknown, session-twice, some-set-aside */
export const bindCommand = (
  code: string,
  participant: string,
  feeds: readonly string[],
  options: Kept,
): Promise<void> =>
  withStore(options, (store) => {
    const study = opened(code, options);
    // Without the arm, because of blinding.
    oneByOne(
      feeds,
      (feed) => `Feed ${feed} is session ${study.bind(keptFeed(store, feed).id, participant).session}.`,
    );
  });

/** @throws PlainError study-asks-otherwise */
export async function learnedCommand(code: string, participant: string, options: Kept): Promise<void> {
  const study = opened(code, options);
  await withStore(options, (store) =>
    say(learnedText(whatIsLearned(study, store, participant, CLOCK.nowMs()))),
  );
}

/** @throws PlainError study-unknown, study-closed */
export function closeCommand(code: string, options: Kept): void {
  closeStudy(opened(code, options));
  say(`Study ${code} is closed. Exports and figures name its arms from now on; nobody joins any more.`);
}

/** @throws PlainError study-unknown, participant-unknown */
export function withdrawCommand(code: string, participant: string, options: Kept): void {
  say(text.withdrawnText(code, participant, withdrawParticipant(opened(code, options), participant)));
}

/** @throws PlainError study-unknown */
export const auditCommand = (code: string, options: Listed): void =>
  answer(options.json, opened(code, options).auditLines(), (lines) =>
    lines.map(({ atMs, what, about }) => `${new Date(atMs).toISOString()}  ${what.padEnd(11)} ${about}`),
  );
