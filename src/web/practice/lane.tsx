/** One of the two feeds: how the bottle is held, the message, the pace line. */
import type { PracticeFeed } from '../../app/practice/practice-answers.ts';
import { Bottle } from '../drawings/bottle.tsx';
import { PaceLine } from '../live/pace-line.tsx';
import { isCue } from '../live/tone.ts';
import { useChoices } from '../parts/choices.tsx';
import { bottlePlace, HOLD_VIEW } from './hold.ts';
import { lengthSec, practiceAt } from './playing.ts';
import { PRACTICE_WORDS } from './practice-words.ts';
import { Technique } from './technique.tsx';

export interface LaneProps {
  name: string;
  say: string;
  feed: PracticeFeed;
  atSec: number;
}

export function Lane({ name, say, feed, atSec }: LaneProps) {
  const { language, words } = useChoices();
  const practice = PRACTICE_WORDS[language];
  const now = practiceAt(feed, atSec);
  const place = bottlePlace(now.teatIn, now.tiltDeg);
  const minutes = Math.round(lengthSec(feed) / 60);
  const cue = !now.over && isCue(now.showing);
  return (
    <section class="lane" data-cue={cue} data-over={now.over}>
      <h2>
        {name} <span class="lane-how">{say}</span>
      </h2>
      <svg
        class="picture hold"
        viewBox={`${HOLD_VIEW.left} ${HOLD_VIEW.top} ${HOLD_VIEW.width} ${HOLD_VIEW.height}`}
        preserveAspectRatio="xMinYMid"
        aria-hidden="true"
        focusable="false"
      >
        <circle class="ink solid" cx="62" cy="150" r="52" />
        <path class="ink" d="M66,138 q9,8 18,0 M50,152 C42,142 54,134 60,144 M58,98 C54,86 66,80 70,90" />
        <g transform={`translate(${place.x},${place.y}) rotate(${place.turnDeg})`}>
          <Bottle />
        </g>
      </svg>
      <p class="lane-says">{now.over ? practice.over(minutes) : words.shown[now.showing].glance}</p>
      <PaceLine ahead={now.over ? null : now.ahead} state={now.over ? 'none' : 'drawn'} />
      <p class="soft">
        {now.over ? '' : `${practice.minute(now.minute)} · `}
        {practice.cuesShown(now.cues)}
      </p>
      {now.over && feed.technique && <Technique lines={feed.technique} />}
    </section>
  );
}
