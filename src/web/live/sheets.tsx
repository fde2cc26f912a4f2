/** Panels that open over the live page: signs of stress, end of a feed, links to other pages. */
import { useState } from 'preact/hooks';
import type { LiveCommand } from '../../feed/live/live-view.ts';
import { useChoices } from '../parts/choices.tsx';
import { useMay } from '../parts/right.tsx';
import { Sheet } from '../parts/sheet.tsx';
import { LanguageChoice, PageLinks, UnitChoice } from '../parts/ways.tsx';

/** The same in every state. `cue`: the live page's current message, shown too, so that the card hides nothing. */
export function StressSigns({ cue, onClose }: { cue: string | null; onClose: () => void }) {
  const { stressCard } = useChoices().words;
  return (
    <Sheet title={stressCard.title} whole onClose={onClose}>
      {cue && <p class="cue-meanwhile">{cue}</p>}
      <ul class="signs">
        {stressCard.signs.map((sign) => (
          <li key={sign}>{sign}</li>
        ))}
      </ul>
      <p class="act">{stressCard.act.join(' ')}</p>
      <p class="emergency">{stressCard.emergency}</p>
      <p class="soft">{stressCard.notWatched}</p>
    </Sheet>
  );
}

export interface EndFeedProps {
  onCommand: (command: LiveCommand) => void;
  onClose: () => void;
}

/** Two touches end a feed; three discard it. */
export function EndFeed({ onCommand, onClose }: EndFeedProps) {
  const { texts } = useChoices();
  const { ending } = texts;
  const [leavingOut, setLeavingOut] = useState(false);
  const does = (command: LiveCommand) => () => {
    onCommand(command);
    onClose();
  };
  if (leavingOut) {
    return (
      <Sheet title={ending.notAFeedTitle} key="leave-out" closeText={ending.goOn} onClose={onClose}>
        <p>{ending.notAFeedSay}</p>
        <button type="button" class="strong" onClick={does({ kind: 'discard-feed' })}>
          {ending.leaveOut}
        </button>
      </Sheet>
    );
  }
  return (
    <Sheet title={ending.title} key="end" closeText={ending.goOn} onClose={onClose}>
      <p>{ending.say}</p>
      <button type="button" class="strong" onClick={does({ kind: 'end-feed' })}>
        {ending.end}
      </button>
      <button type="button" onClick={() => setLeavingOut(true)}>
        {ending.notAFeed}
      </button>
    </Sheet>
  );
}

export interface MorePagesProps {
  feedOpen: boolean;
  onCommand: (command: LiveCommand) => void;
  onClose: () => void;
}

export function MorePages({ feedOpen, onCommand, onClose }: MorePagesProps) {
  const { texts, words } = useChoices();
  const isHelper = useMay()('help');
  const does = (command: LiveCommand) => {
    onCommand(command);
    onClose();
  };
  return (
    <Sheet title={texts.touch.more} onClose={onClose}>
      <PageLinks />
      {feedOpen && isHelper && <HandOver onName={(caregiver) => does({ kind: 'hand-over', caregiver })} />}
      {isHelper && (
        <button type="button" onClick={() => does({ kind: 'which-sleeve' })}>
          {texts.touch.whichSleeve}
        </button>
      )}
      <LanguageChoice />
      <UnitChoice />
      <p class="soft">{words.caution}</p>
    </Sheet>
  );
}

/** Another caregiver continues the same feed; the name is optional. */
function HandOver({ onName }: { onName: (caregiver: string | null) => void }) {
  const { texts } = useChoices();
  const [name, setName] = useState('');
  return (
    <form
      class="field"
      onSubmit={(event) => {
        event.preventDefault();
        onName(name.trim() || null);
      }}
    >
      <label for="hand-over">{texts.touch.handOver}</label>
      <input
        id="hand-over"
        value={name}
        maxLength={80}
        placeholder={texts.before.caregiverHint}
        autoComplete="off"
        onInput={(event) => setName(event.currentTarget.value)}
      />
      <button type="submit">{texts.touch.handOverNow}</button>
    </form>
  );
}
