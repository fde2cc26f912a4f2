/** One of the two feeds: how the bottle is held, what is said, the line. */
import type { PracticeFeed } from '../../server/answers.ts';
import { Bottle } from '../drawings/bottle.tsx';
import { PaceLine } from '../live/pace-line.tsx';
import { isCue } from '../live/tone.ts';
import { useChoices } from '../parts/choices.tsx';
import { lengthSec, practiceAt } from './playing.ts';
import { PRACTICE_WORDS } from './practice-words.ts';

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
  const minutes = Math.round(lengthSec(feed) / 60);
  const cue = !now.over && isCue(now.showing);
  return (
    <section class="lane" data-cue={cue} data-over={now.over}>
      <h2>{name}</h2>
      <p class="soft">{say}</p>
      <svg class="picture hold" viewBox="0 0 340 200" aria-hidden="true" focusable="false">
        {/* Tilt counts from upright: level is 90°, and the nipple points to the left. */}
        <g transform={`translate(96,120) rotate(${90 - now.tiltDeg})`}>
          <Bottle />
        </g>
        {!now.teatIn && <path class="ink dots" d="M20,188 H320" />}
      </svg>
      <p class="lane-says">{now.over ? practice.over(minutes) : words.shown[now.showing].glance}</p>
      <PaceLine ahead={now.over ? null : now.ahead} state={now.over ? 'none' : 'drawn'} />
      <p class="soft">
        {now.over ? '' : `${practice.minute(now.minute)} · `}
        {practice.cuesShown(now.cues)}
      </p>
    </section>
  );
}
