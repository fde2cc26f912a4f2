/** Data of every session for the curves: from a recomputation by this program if there is one, else computed. */
import { briefOf, type SessionBrief } from '../../../research/group/brief.ts';
import { armNames } from '../blinding.ts';
import { type Crew, inOrder } from '../crew/crew.ts';
import { latestResults } from '../recompute/runs.ts';
import { isSetAside, type StudyStore, sessionInput } from '../sessions/session-result.ts';
import { type ListedAside, Seen } from '../sessions/set-aside-list.ts';
import type { StudyFolder } from '../study-folder.ts';

export interface StudyBriefs {
  briefs: SessionBrief[];
  setAside: ListedAside[];
}

/** @param programSha256 hash of this program; null: compute everything @throws PlainError of the store */
export async function studyBriefs(
  study: StudyFolder,
  store: StudyStore,
  crew: Crew,
  programSha256: string | null,
  onProgress: (done: number, of: number) => void = () => {},
): Promise<StudyBriefs> {
  const sessions = study.sessions();
  const results = latestResults(study, programSha256);
  const nameOf = armNames(study);
  const seen = new Seen();
  const briefs: SessionBrief[] = [];
  let count = 0;
  await inOrder(
    sessions,
    2 * crew.hands,
    async ({ session, feed }) => {
      const found = sessionInput(store, feed, study.protocol);
      if (typeof found === 'string') return found;
      const job = { session, input: found.input, result: results(session), rawOut: null, createdBy: '' };
      return (await crew.run('exportSession', job)).computed;
    },
    ({ session, participant, arm }, computed) => {
      onProgress(++count, sessions.length);
      if (isSetAside(computed)) seen.whyNot(session, computed, null);
      else if (seen.whyNot(session, null, computed.captureSha256) === null)
        briefs.push(briefOf({ session, participant, arm: nameOf(arm) }, computed));
    },
  );
  return { briefs, setAside: seen.list };
}
