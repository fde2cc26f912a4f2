/** Practice: two simulated feeds side by side, and how to practise with a doll and water. */
import { useEffect, useState } from 'preact/hooks';
import type { PracticeFeeds } from '../../app/practice/practice-answers.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { Unanswered } from '../parts/unanswered.tsx';
import { Lane } from './lane.tsx';
import { lengthSec } from './playing.ts';
import { PRACTICE_WORDS } from './practice-words.ts';
import { OwnTechnique } from './technique.tsx';

const SPEEDS = ['10', '30'] as const;
const BABIES = 9;
/** Time between pictures: smooth enough, and slow enough for any device. */
const PICTURE_MS = 100;

export function PracticePage({ guard }: { guard: Guard }) {
  const { language, texts } = useChoices();
  const words = PRACTICE_WORDS[language];
  const { view } = guard;
  const ended = view?.practice && view.feedState === 'ended' ? view.feedId : null;
  const [baby, setBaby] = useState(1);
  const feeds = useJson<PracticeFeeds>(`/practice/${baby}`);
  return (
    <ReadingPage title={words.title} page="practice" guard={guard} wide>
      {ended && <OwnTechnique feedId={ended} />}
      <p>{words.intro}</p>
      <Unanswered of={feeds} asking={texts.live.oneMoment} />
      {feeds.state === 'here' && <SideBySide key={baby} feeds={feeds.answer} />}
      <button type="button" class="plain" onClick={() => setBaby((baby % BABIES) + 1)}>
        {words.baby}
      </button>
      <p class="soft">{words.onlyLonger}</p>
      <h2>{words.dollTitle}</h2>
      <ol class="practice-steps">
        {words.doll.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      <p>{words.apart}</p>
    </ReadingPage>
  );
}

function SideBySide({ feeds }: { feeds: PracticeFeeds }) {
  const words = PRACTICE_WORDS[useChoices().language];
  const [speed, setSpeed] = useState<(typeof SPEEDS)[number]>('10');
  const [atSec, setAtSec] = useState(0);
  const [running, setRunning] = useState(false);
  const endSec = Math.max(lengthSec(feeds.steep), lengthSec(feeds.followed));
  const over = atSec >= endSec;
  useEffect(() => {
    if (!running || over) return;
    let lastMs = performance.now();
    const timer = setInterval(() => {
      const nowMs = performance.now();
      const stepSec = ((nowMs - lastMs) / 1000) * Number(speed);
      lastMs = nowMs;
      setAtSec((sec) => Math.min(endSec, sec + stepSec));
    }, PICTURE_MS);
    return () => clearInterval(timer);
  }, [running, over, speed, endSec]);

  const touch = () => {
    if (over) setAtSec(0);
    setRunning(over || !running);
  };
  return (
    <>
      <div class="practice-touches">
        <OneOf
          name="speed"
          label={words.speed}
          choices={SPEEDS.map((value) => ({ value, text: words.times(Number(value)) }))}
          value={speed}
          onChoose={setSpeed}
        />
        <button type="button" class="strong" onClick={touch}>
          {over ? words.again : running ? words.hold : atSec > 0 ? words.goOn : words.begin}
        </button>
      </div>
      <div class="lanes">
        <Lane name={words.steep} say={words.steepSay} feed={feeds.steep} atSec={atSec} />
        <Lane name={words.followed} say={words.followedSay} feed={feeds.followed} atSec={atSec} />
      </div>
    </>
  );
}
