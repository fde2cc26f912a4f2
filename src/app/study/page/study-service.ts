/** Studies for the page, from their folders and latest recomputation; read-only. */
import type { SessionBrief } from '../../../research/group/brief.ts';
import { curvesByArm } from '../../../research/group/curves.ts';
import { PUBLISHED_CURVES } from '../../../research/group/published-curves.ts';
import { groupGraphSvg } from '../../../review/index.ts';
import type { SideFiles } from '../../../store/side-files.ts';
import { languageOf } from '../../review/queries.ts';
import { armNames, isBlinded, isClosed } from '../blinding.ts';
import { WITHDRAWN } from '../export/privacy.ts';
import { type Run, readBriefs, readDone, runsIn } from '../recompute/runs.ts';
import { StudyFolder } from '../study-folder.ts';
import type { Session } from '../study-records.ts';
import type {
  ListedStudy,
  StratumBalance,
  StudyAnswer,
  StudyService,
  StudySession,
} from './study-answers.ts';

/** The page starts no study and draws no arm, so it needs no clock. */
const NO_CLOCK = {
  nowMs: () => 0,
  drawSeed: () => {
    throw new Error('the page draws no seeds');
  },
};

const ALL = (): boolean => true;

/**
 * @param studies files of all studies
 * @param isShared whether a feed may be told of
 */
export function studyService(studies: SideFiles, isShared: (feedId: string) => boolean = ALL): StudyService {
  const opened = (code: string): StudyFolder => StudyFolder.open(studies, code, NO_CLOCK);
  return {
    studies() {
      const { open, setAside } = StudyFolder.all(studies, NO_CLOCK);
      return {
        studies: open.map(listed),
        setAside: setAside.map(({ code, error }) => ({
          code,
          why: error.code === 'study-newer' ? 'newer' : 'damaged',
        })),
      };
    },
    study: (code) => answerOf(opened(code), isShared),
    curves(code, { widthPx, ...asked }) {
      const study = opened(code);
      const curves = curvesByArm(briefsOf(study, lastRun(study), isShared));
      const { title } = study.protocol;
      return groupGraphSvg(curves, PUBLISHED_CURVES, {
        title,
        widthPx,
        language: languageOf(asked),
        theme: 'inline',
      });
    },
  };
}

const enrolled = (study: StudyFolder) =>
  study.allocations().filter(({ participant }) => participant !== WITHDRAWN);

const listed = (study: StudyFolder): ListedStudy => ({
  code: study.protocol.code,
  title: study.protocol.title,
  participants: enrolled(study).length,
  sessions: study.sessions().length,
  isClosed: isClosed(study),
});

const lastRun = (study: StudyFolder): Run | null =>
  runsIn(study.recomputed).findLast(({ isDone }) => isDone) ?? null;

/** Sessions that were bound since, or whose participant withdrew, are not among them. */
function briefsOf(
  study: StudyFolder,
  run: Run | null,
  isShared: (feedId: string) => boolean,
): SessionBrief[] {
  if (run === null) return [];
  const nameOf = armNames(study);
  const shared = study.sessions().filter(({ feed }) => isShared(feed));
  const arms = new Map(shared.map(({ session, arm }) => [session, nameOf(arm)]));
  return readBriefs(run).flatMap((brief) => {
    const arm = arms.get(brief.session);
    return arm === undefined ? [] : [{ ...brief, arm }];
  });
}

function answerOf(study: StudyFolder, isShared: (feedId: string) => boolean): StudyAnswer {
  const { arms, allocation } = study.protocol;
  const run = lastRun(study);
  const briefs = briefsOf(study, run, isShared);
  const shared = study.sessions().filter(({ feed }) => isShared(feed));
  return {
    ...listed(study),
    isBlinded: isBlinded(study),
    withholds: arms.some(({ cues }) => cues === 'logged'),
    computedBy: run && { run: run.name, softwareVersion: run.softwareVersion },
    hasCurves: briefs.length > 0,
    notShared: study.sessions().length - shared.length,
    list: sessionsOf(study, shared, run, briefs),
    balance: balanceOf(study),
    furthestApart:
      allocation?.unit === 'feed' ? null : allocation && Math.max(...allocation.blockSizes) / arms.length,
  };
}

function sessionsOf(
  study: StudyFolder,
  shared: readonly Session[],
  run: Run | null,
  briefs: readonly SessionBrief[],
): StudySession[] {
  const nameOf = armNames(study);
  const known = new Map(briefs.map((brief) => [brief.session, brief]));
  const aside = new Map(
    (run === null ? [] : readDone(run).setAside).map(({ session, why }) => [session, why]),
  );
  return shared.map(({ session, participant, arm }) => {
    const brief = known.get(session);
    return {
      session,
      participant,
      arm: nameOf(arm),
      lengthMin: brief?.lengthMin ?? null,
      intakeMl: brief?.intakeMl.at(-1) ?? null,
      goodPercent: brief ? Math.round(100 * brief.goodShare) : null,
      setAside: aside.get(session) ?? null,
    };
  });
}

function balanceOf(study: StudyFolder): StratumBalance[] {
  const { allocation, arms } = study.protocol;
  const counted = (stratum: string, all: readonly { arm: string }[]): StratumBalance => {
    const counts = arms.map(({ code }) => ({
      arm: code,
      count: all.filter(({ arm }) => arm === code).length,
    }));
    return { stratum, enrolled: all.length, arms: isBlinded(study) ? null : counts };
  };
  // If each feed has its own arm, feeds are counted instead of participants.
  if (allocation?.unit === 'feed') return [counted('', study.sessions())];
  const all = enrolled(study);
  return (allocation?.strata ?? ['all']).map((stratum) =>
    counted(
      stratum,
      all.filter((one) => one.stratum === stratum),
    ),
  );
}
