/** The stage: one picture, a few words readable across a room, and a line for somebody close by. */
import type { Showing } from '../../feed/live/live-view.ts';
import { cueOf } from '../../pacing/cues/shown-cues.ts';
import type { ShownWords } from '../../pacing/cues/words.ts';
import { Picture } from '../drawings/picture.tsx';
import { useFit } from './fit.ts';
import type { Shown } from './guard.ts';
import { isCue } from './tone.ts';

export function Stage({ shown, words }: { shown: Shown | null; words: ShownWords }) {
  const showing = shown?.showing;
  // What a study may not withhold is never cut off either.
  const isSafety = showing === 'cues-withheld' || cueOf(showing ?? '')?.moreIsSafety;
  const safety = isSafety ? words.more : '';
  const said = [words.glance, words.say, safety].filter(Boolean).join('. ');
  const urgent = isCue(showing);
  const picture = shown && pictureOf(shown);
  const stage = useFit([picture, words.glance, words.say, words.more].join('\n'));
  return (
    <section
      class="stage"
      ref={stage}
      data-showing={showing ?? 'none'}
      data-safety={safety !== '' || undefined}
    >
      {picture && <Picture of={picture} />}
      <div class="stage-words" aria-hidden="true">
        <p class="glance">{words.glance}</p>
        {words.say && <p class="say">{words.say}</p>}
        {words.more && <p class="more">{words.more}</p>}
      </div>
      <div class="for-ears" aria-live="assertive">
        {urgent && said}
      </div>
      <div class="for-ears" aria-live="polite">
        {!urgent && said}
      </div>
    </section>
  );
}

function pictureOf({ showing, feedState }: Shown): Showing | 'ended' | null {
  if (showing !== 'waiting') return showing;
  if (feedState === 'discarded') return null;
  return feedState === 'ended' ? 'ended' : 'waiting';
}
