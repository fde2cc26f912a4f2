/** The end of a feed: what was taken, what may follow, how much milk is left over and how long it may be used, who fed. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { AfterAnswer } from '../../app/review/review-answers.ts';
import type { CorrectionContent } from '../../feed/record/written-by-hand.ts';
import { dayText, timeText } from '../feeds/days.ts';
import type { Guard } from '../live/guard.ts';
import { postJson, type Refused, useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { useMay } from '../parts/right.tsx';
import { addressOf } from '../parts/route.ts';
import { SENSOR_FAULTS } from '../parts/sensor-faults.ts';
import { Unanswered } from '../parts/unanswered.tsx';
import { UnitChoice } from '../parts/ways.tsx';
import { AfterSteps } from './after-steps.tsx';
import { LeftOver } from './left-over.tsx';
import { WhoAndWhat } from './who-and-what.tsx';
import { AFTER_WORDS } from './words.ts';

/** Stores corrections for the feed. @returns whether they were stored */
export type PutBeside = (corrections: readonly CorrectionContent[]) => Promise<boolean>;

export function AfterPage({ id, guard }: { id: string; guard: Guard }) {
  const { texts, language } = useChoices();
  const words = AFTER_WORDS[language];
  const may = useMay();
  const [asked, setAsked] = useState(0);
  const [refused, setRefused] = useState<Refused | null>(null);
  const [isTyping, setTyping] = useState(false);
  const answer = useJson<AfterAnswer>(`/feeds/${encodeURIComponent(id)}/after?asked=${asked}`);
  useNextFeed(guard, isTyping);

  const putBeside: PutBeside = async (corrections) => {
    for (const correction of corrections) {
      const posted = await postJson(`/feeds/${encodeURIComponent(id)}/corrections`, { correction, by: null });
      setRefused('error' in posted ? posted.error : null);
      if ('error' in posted) return false;
    }
    setAsked((count) => count + 1);
    return true;
  };
  return (
    <ReadingPage title={words.title} page="after" guard={guard}>
      <Unanswered of={answer} asking={words.asking} />
      {answer.state === 'here' && (
        <>
          {answer.answer.simulated && <p class="simulated">{texts.feeds.simulatedLong}</p>}
          <Ended after={answer.answer} />
          <SleeveFaults after={answer.answer} />
          {refused && <RefusedNotice error={refused} />}
          {answer.answer.isEnded && (
            <>
              <AfterSteps after={answer.answer} onPut={putBeside} />
              <LeftOver after={answer.answer} onPut={putBeside} />
              {may('help') && <WhoAndWhat after={answer.answer} onPut={putBeside} onTyping={setTyping} />}
            </>
          )}
          <UnitChoice />
        </>
      )}
      <p>
        <a href={addressOf({ page: 'feed', id })}>{words.see}</a>
      </p>
    </ReadingPage>
  );
}

/** What was taken, and how long ago the feed ended. Counts up, since it has no goal. */
function Ended({ after: { zone, takenMl, nowMs, finishedAtMs, isEnded } }: { after: AfterAnswer }) {
  const { volume, language } = useChoices();
  const words = AFTER_WORDS[language];
  const agoMin = Math.floor(useSince(nowMs - finishedAtMs) / 60_000);
  const when = `${dayText(finishedAtMs, { language, zone, nowMs })}, ${timeText(finishedAtMs, { language, zone })}`;
  return (
    <p class="lead">
      {isEnded ? (
        <>
          {words.taken(volume(takenMl))}{' '}
          <span role="timer">{agoMin < CLOCK_MIN ? words.ago(agoMin) : words.endedAt(when)}</span>
        </>
      ) : (
        words.open
      )}
    </p>
  );
}

function SleeveFaults({ after: { sensorFaults } }: { after: AfterAnswer }) {
  const { language } = useChoices();
  if (sensorFaults.length === 0) return null;
  const what = sensorFaults.map((fault) => SENSOR_FAULTS[language][fault]).join(' ');
  return <p class="soft">{AFTER_WORDS[language].sensor(what)}</p>;
}

/** After this many minutes the time of day is shown instead. */
const CLOCK_MIN = 120;
const LOOK_MS = 5000;

/** @param sinceMs time since the end by the server's clock, when it answered @returns the same, counted on */
function useSince(sinceMs: number): number {
  const from = useRef({ sinceMs, atMs: performance.now() });
  const [nowMs, setNowMs] = useState(() => performance.now());
  useEffect(() => {
    from.current = { sinceMs, atMs: performance.now() };
  }, [sinceMs]);
  useEffect(() => {
    const timer = setInterval(() => setNowMs(performance.now()), LOOK_MS);
    return () => clearInterval(timer);
  }, []);
  return Math.max(0, from.current.sinceMs + Math.max(0, nowMs - from.current.atMs));
}

/** Goes back to the live page when the next feed begins, unless somebody is writing here; then its cue is shown on top of this page. */
function useNextFeed({ view }: Guard, isTyping: boolean): void {
  // If a feed was already running when this page was opened, it was opened on purpose.
  const sawNone = useRef(false);
  useEffect(() => {
    if (!view) return;
    if (view.feedState !== 'open') sawNone.current = true;
    else if (sawNone.current && !isTyping) location.hash = addressOf({ page: 'live' });
  }, [view, isTyping]);
}
