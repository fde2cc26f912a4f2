/** The caregiver's page. */
import { useEffect, useState } from 'preact/hooks';
import type { LiveCommand } from '../../feed/live-view.ts';
import { MoreIcon } from '../drawings/icons.tsx';
import { send } from '../parts/ask.ts';
import { useAwake } from '../parts/awake.ts';
import { CalibrationLine } from '../parts/calibration-line.tsx';
import { useChoices } from '../parts/choices.tsx';
import { addressOf } from '../parts/route.ts';
import { usePrefersDark, useTone } from '../parts/tone.ts';
import type { Guard } from './guard.ts';
import { type LineState, PaceLine } from './pace-line.tsx';
import { EndFeed, MorePages, StressSigns } from './sheets.tsx';
import { Stage } from './stage.tsx';
import { stageWords } from './stage-words.ts';
import { isCue, liveTone } from './tone.ts';
import { TouchRow } from './touch-row.tsx';

type Open = 'signs' | 'end' | 'more' | null;
/** A note of what a touch did goes away by itself. */
const NOTE_MS = 4000;

export function LivePage({ guard }: { guard: Guard }) {
  const { language, words, texts } = useChoices();
  const [open, setOpen] = useState<Open>(null);
  const [note, setNote] = useState<string | null>(null);
  const { view, shown } = guard;
  const showing = shown?.showing;
  const feedOpen = view?.feedState === 'open';
  const said = stageWords(shown, language, words, texts);

  useTone(liveTone(showing, view?.dimmed ?? false, usePrefersDark()));
  useAwake(feedOpen);
  useEffect(() => {
    document.title = `${said.glance} · Ebbline`;
  }, [said.glance]);
  useEffect(() => {
    if (note === null) return;
    const timer = setTimeout(() => setNote(null), NOTE_MS);
    return () => clearTimeout(timer);
  }, [note]);

  const command = async (wanted: LiveCommand) => {
    const refused = await send(wanted);
    if (refused) setNote([texts.touch.notReached, refused.message, refused.remedy].filter(Boolean).join(' '));
    else setNote(wanted.kind === 'burped' ? texts.touch.burpNoted : null);
  };
  const close = () => setOpen(null);

  return (
    <main class="live">
      <h1 class="for-ears">{texts.live.title}</h1>
      <header class="live-head">
        {view?.simulated || view?.practice ? (
          <p class="simulated">{view.simulated ? texts.live.simulated : texts.live.practice}</p>
        ) : (
          <p class="wordmark">Ebbline</p>
        )}
        <button type="button" class="corner" aria-label={texts.touch.more} onClick={() => setOpen('more')}>
          <MoreIcon />
        </button>
      </header>
      <Stage shown={shown} words={said} />
      {showing === 'guidance-off' && (
        <button
          type="button"
          class="strong stage-button"
          onClick={() => command({ kind: 'pause-guidance', on: false })}
        >
          {texts.live.guidanceOn}
        </button>
      )}
      {showing === 'waiting' && view?.feedState === 'ended' && view.feedId && (
        <a
          class="strong stage-button"
          href={addressOf(view.practice ? { page: 'practice' } : { page: 'feed', id: view.feedId })}
        >
          {view.practice ? texts.live.ended.seePractice : texts.live.ended.seeFeed}
        </a>
      )}
      {feedOpen && <PaceLine ahead={guard.fresh ? view.aheadOfPace : null} state={lineState(guard)} />}
      <div class="note" role="status">
        {note ?? (view?.notice ? <span lang="en">{view.notice}</span> : <CalibrationLine view={view} />)}
      </div>
      <footer class="touches">
        <div class="touch-pair">
          <button type="button" class="signs-button" onClick={() => setOpen('signs')}>
            {texts.touch.signs}
          </button>
          {feedOpen ? (
            <button type="button" onClick={() => setOpen('end')}>
              {texts.touch.endFeed}
            </button>
          ) : (
            <a class="button" href={addressOf({ page: 'before' })}>
              {texts.go.before}
            </a>
          )}
        </div>
        <TouchRow view={view} onCommand={command} />
      </footer>
      {open === 'signs' && <StressSigns cue={isCue(showing) ? said.glance : null} onClose={close} />}
      {open === 'end' && <EndFeed onCommand={command} onClose={close} />}
      {open === 'more' && <MorePages onClose={close} />}
    </main>
  );
}

function lineState({ shown }: Guard): LineState {
  if (shown?.showing === 'cannot-tell') return 'broken';
  if (!shown || shown.showing === 'no-guidance' || shown.showing === 'guidance-off') return 'none';
  return 'drawn';
}
