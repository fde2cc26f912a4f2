import { CALIBRATION_DOUBTS } from '../../pacing/cues/words-calibration.ts';
import type { BoardCot } from '../../ward/board/board-view.ts';
import { Picture } from '../drawings/picture.tsx';
import { withoutEcho } from '../live/stage-words.ts';
import { type Choices, useChoices } from '../parts/choices.tsx';
import { BOARD_WORDS } from './board-words.ts';

interface Said {
  name: string;
  glance: string;
  say: string;
  since: string;
}

/** The words of the live page, for one cot. Pure. */
function cotWords(cot: BoardCot, { language, words, texts }: Choices): Said {
  const own = BOARD_WORDS[language];
  const name = cot.cot === null ? own.unbound(cot.sleeve) : own.cot(cot.cot);
  const since = cot.forMin < 1 ? own.now : own.forMinutes(cot.forMin);
  if (cot.showing === 'ended') return { name, glance: own.ended, say: '', since };
  const { glance, say } = withoutEcho(words.shown[cot.showing]);
  if (cot.cause === 'sleeve-unknown' || cot.cause === 'not-guided')
    return { name, glance, say: own.unguided[cot.cause], since };
  const why =
    (cot.cause && texts.live.causes[cot.cause].more) ?? (cot.quality && texts.live.reasons[cot.quality]);
  return { name, glance, say: why || say, since };
}

/** Words of the live page about a calibration in doubt. Pure. */
export const cotNote = ({ calibration }: BoardCot, { language }: Pick<Choices, 'language'>): string | null =>
  calibration && CALIBRATION_DOUBTS[language][calibration];

export function cotSays(cot: BoardCot, choices: Choices): string {
  const { name, glance } = cotWords(cot, choices);
  return `${name}: ${glance}`;
}

/** @param isLarge with its drawing and instruction */
export function CotCard({ cot, isLarge }: { cot: BoardCot; isLarge: boolean }) {
  const choices = useChoices();
  const { name, glance, say, since } = cotWords(cot, choices);
  const note = cotNote(cot, choices);
  const own = BOARD_WORDS[choices.language];
  // Between feeds, and in a feed without a cue, no waiting time matters.
  const time = cot.need === 'quiet' && cot.feedMin !== null ? own.inFeed(cot.feedMin) : since;
  return (
    <li
      class="cot"
      data-showing={cot.showing}
      data-large={isLarge || undefined}
      data-doubt={cot.calibration ?? undefined}
    >
      <h3>{name}</h3>
      {(isLarge || cot.need === 'hint') && <Picture of={cot.showing} />}
      {/* The section's heading already says that there is no cue. */}
      {cot.showing !== 'gentle' && <p class="cot-glance">{glance}</p>}
      {isLarge && say && <p class="cot-say">{say}</p>}
      <p class="cot-since">{time}</p>
      {note && <p class="cot-note">{note}</p>}
    </li>
  );
}
