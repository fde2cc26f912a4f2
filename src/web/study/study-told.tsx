/** One study: its sessions with their quality, what is set aside and why, the allocation without giving it away, the curves of its arms. */
import type { StudyAnswer, StudySession } from '../../app/study/page/study-answers.ts';
import { Drawing, pageGraphWidth } from '../feeds/feed-graph.tsx';
import { ToldTable } from '../feeds/told-table.tsx';
import { useChoices } from '../parts/choices.tsx';
import { STUDY_WORDS, type StudyWords } from './study-words.ts';

interface StudyProps {
  study: StudyAnswer;
  /** With what is done in a terminal there. */
  isHome: boolean;
}

export function StudyTold({ study, isHome }: StudyProps) {
  const { language } = useChoices();
  const words = STUDY_WORDS[language];
  const { code, isClosed, participants, sessions, computedBy } = study;
  return (
    <>
      <p>
        {code}, {isClosed ? words.closed : words.open}: {words.counts(participants, sessions)}.{' '}
        {study.isBlinded && words.blinded}
      </p>
      {study.withholds && <p>{words.withheld}</p>}
      <p class="soft">
        {computedBy ? words.computedBy(computedBy.run, computedBy.softwareVersion) : words.notComputed(code)}
      </p>
      {study.hasCurves && (
        <>
          <h2>{words.curves}</h2>
          <figure class="graph">
            <Drawing
              address={`/studies/${encodeURIComponent(code)}/curves.svg?language=${language}&width=${pageGraphWidth()}`}
            />
          </figure>
        </>
      )}
      <h2>{words.sessions}</h2>
      {study.notShared > 0 && <p>{words.notShared(study.notShared)}</p>}
      {study.list.length === 0 ? (
        study.notShared === 0 && <p>{words.noSessions}</p>
      ) : (
        <ToldTable label={words.sessions} heads={words.heads} rows={study.list.map(rowOf(words))} isStacked />
      )}
      <Balance study={study} words={words} />
      {isHome && <p class="soft">{words.byCommand(code)}</p>}
    </>
  );
}

const rowOf =
  ({ setAside }: StudyWords) =>
  (one: StudySession) => ({
    key: one.session,
    cells: [
      one.session,
      one.participant,
      one.arm,
      one.lengthMin?.toFixed(1) ?? '',
      one.intakeMl?.toFixed(0) ?? '',
      one.goodPercent ?? '',
      one.setAside === null ? '' : setAside[one.setAside],
    ],
  });

function Balance({ study: { balance, furthestApart }, words }: { study: StudyAnswer; words: StudyWords }) {
  return (
    <>
      <h2>{words.balance}</h2>
      <ToldTable
        label={words.balance}
        heads={words.balanceHeads}
        rows={balance.map(({ stratum, enrolled, arms }) => ({
          key: stratum,
          cells: [
            stratum,
            enrolled,
            arms === null ? words.concealed : arms.map(({ arm, count }) => `${arm}: ${count}`).join(', '),
          ],
        }))}
      />
      {furthestApart !== null && <p class="soft">{words.furthest(furthestApart)}</p>}
    </>
  );
}
