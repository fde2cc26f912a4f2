/** One study: its sessions with their quality, what is set aside and why, the allocation without giving it away, the curves of its arms. */
import type { StudyAnswer, StudySession } from '../../app/study/page/study-answers.ts';
import { Drawing, pageGraphWidth } from '../feeds/feed-graph.tsx';
import { ToldTable } from '../feeds/told-table.tsx';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { STUDY_WORDS, type StudyWords } from './study-words.ts';

export function StudyPage({ code, guard }: { code: string; guard: Guard }) {
  const { language, texts } = useChoices();
  const answer = useJson<StudyAnswer>(`/studies/${encodeURIComponent(code)}`);
  const title = answer.state === 'here' ? answer.answer.title : STUDY_WORDS[language].title;
  return (
    <ReadingPage title={title} page="study" guard={guard} wide>
      {answer.state === 'asking' && <p class="soft">{texts.feeds.asking}</p>}
      {answer.state === 'refused' && <RefusedNotice error={answer.error} />}
      {answer.state === 'here' && <Study study={answer.answer} words={STUDY_WORDS[language]} />}
    </ReadingPage>
  );
}

interface StudyProps {
  study: StudyAnswer;
  words: StudyWords;
}

function Study({ study, words }: StudyProps) {
  const { language } = useChoices();
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
      {study.list.length === 0 ? (
        <p>{words.noSessions}</p>
      ) : (
        <ToldTable label={words.sessions} heads={words.heads} rows={study.list.map(rowOf(words))} isStacked />
      )}
      <Balance study={study} words={words} />
      <p class="soft">{words.byCommand(code)}</p>
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

function Balance({ study: { balance, furthestApart }, words }: StudyProps) {
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
