/** What the commands of research do. */
import { keptFeed } from '../../app/review/kept-feed.ts';
import { closeStudy } from '../../app/study/blinding.ts';
import { withdrawParticipant } from '../../app/study/handed-out.ts';
import { learnedText } from '../../app/study/learned-text.ts';
import { oneByOne } from '../../app/study/one-by-one.ts';
import { EXAMPLE_PROTOCOL, givenProtocol } from '../../app/study/protocol-file.ts';
import { openedStudy, STUDY_CLOCK, StudyFolder, studiesAmong } from '../../app/study/study-folder.ts';
import * as text from '../../app/study/study-text.ts';
import { whatIsLearned } from '../../app/study/what-is-learned.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { type Lines, say, shown } from '../print-out.ts';
import { type OnProgress, withProgress } from '../progress.ts';
import { chosenDatabase, type Kept, onFiles, onStore, withFiles, withStore } from '../with-store.ts';
import type { StudyRuns } from './commands.ts';

type OfStudy = Kept & { study: string };

/** @throws PlainError study-unknown, study-newer, study-damaged */
const onStudy = <G extends OfStudy>(act: (study: StudyFolder, given: G) => Lines) =>
  onFiles((files, given: G) => act(openedStudy(files, given.study), given));

type Computing = typeof import('../../app/study/computed-asked.ts');

/** A run that goes through all sessions; what computes is loaded when it is called. */
const computed = <G extends OfStudy>(
  what: string,
  act: (by: Computing, store: FeedStore, given: G, onProgress: OnProgress) => Promise<Lines>,
) =>
  onStore(async (store, given: G) => {
    const by = await import('../../app/study/computed-asked.ts');
    return withProgress(what, (onProgress) => act(by, store, given, onProgress));
  });

export const runs: StudyRuns = {
  'study new': onFiles((files, { protocol }) =>
    text.begunText(StudyFolder.begin(studiesAmong(files), givenProtocol(protocol), STUDY_CLOCK).protocol),
  ),
  'study example': () => say(JSON.stringify(EXAMPLE_PROTOCOL, null, 2)),
  'study list': onFiles((files, { json }) => {
    const { open, setAside } = StudyFolder.all(studiesAmong(files), STUDY_CLOCK);
    return shown(json, text.listedStudies(open, setAside), () => text.studiesText(open, setAside));
  }),
  'study enroll': (given) =>
    withFiles(given, (files) => {
      const study = openedStudy(files, given.study);
      const enrolled = (code: string) => text.enrolledText(study.protocol, study.enroll(code, given.stratum));
      oneByOne(given.participant, enrolled, say);
    }),
  'study bind': (given) =>
    withStore(given, (store) => {
      const study = openedStudy(store.files, given.study);
      // Without the arm, because of blinding.
      const bound = (feed: string) =>
        `Feed ${feed} is session ${study.bind(keptFeed(store, feed).id, given.participant).session}.`;
      oneByOne(given.feed, bound, say);
    }),
  'study export': computed('Exporting sessions', (by, ...given) => by.exportAsAsked(...given)),
  'study recompute': computed('Computing sessions', (by, store, { study }, onProgress) =>
    by.recomputeAsAsked(store, { study, database: chosenDatabase() }, onProgress, (hint) =>
      process.stderr.write(`${hint}\n`),
    ),
  ),
  'study figures': computed('Computing sessions', (by, ...given) => by.figuresAsAsked(...given)),
  'study size': ({ sd, half }) => say(text.sizeText(sd, half)),
  'study learned': onStore((store, { study, participant }) =>
    learnedText(whatIsLearned(openedStudy(store.files, study), store, participant, Date.now())),
  ),
  'study close': onStudy((study) => {
    closeStudy(study);
    return text.closedText(study.protocol);
  }),
  'study audit': onStudy((study, { json }) => shown(json, study.auditLines(), text.auditText)),
  'study withdraw': onStudy((study, { study: code, participant }) =>
    text.withdrawnText(code, participant, withdrawParticipant(study, participant)),
  ),
};
