/** The caregiver's page. */
import { useEffect, useState } from 'preact/hooks';
import type { LiveCommand } from '../../feed/live/live-view.ts';
import type { Language } from '../../pacing/cues/words.ts';
import { MoreIcon } from '../drawings/icons.tsx';
import { type Refused, send, UNREACHED } from '../parts/ask.ts';
import { useAwake } from '../parts/awake.ts';
import { CalibrationLine } from '../parts/calibration-line.tsx';
import { useChoices } from '../parts/choices.tsx';
import { FeedClock } from '../parts/feed-clock.tsx';
import { useMay } from '../parts/right.tsx';
import { addressOf } from '../parts/route.ts';
import { useIsDark, useTone } from '../parts/tone.ts';
import type { Texts } from '../words/texts.ts';
import type { Guard } from './guard.ts';
import { isUnkept, noticesNow, noticeText } from './notices.ts';
import { type LineState, PaceLine } from './pace-line.tsx';
import { EndFeed, MorePages, StressSigns } from './sheets.tsx';
import { Stage } from './stage.tsx';
import { stageWords } from './stage-words.ts';
import { isCue, liveTone } from './tone.ts';
import { TouchRow } from './touch-row.tsx';
import { noticeLine } from './troubles.ts';

type Open = 'signs' | 'end' | 'more' | null;
/** A message about the result of a touch disappears after this time. */
const NOTE_MS = 4000;

export function LivePage({ guard }: { guard: Guard }) {
  const { language, words, texts } = useChoices();
  const [open, setOpen] = useState<Open>(null);
  const [note, setNote] = useState<string | null>(null);
  const { view, shown } = guard;
  const showing = shown?.showing;
  const feedOpen = view?.feedState === 'open';
  const said = stageWords(shown, words, texts);
  const may = useMay();

  useTone(liveTone(showing, view?.dimmed ?? false, useIsDark()));
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
    if (!refused) return setNote(doneText(wanted, texts));
    const said = await inWords(refused, language, texts);
    setNote([texts.touch.notReached, ...said].filter(Boolean).join(' '));
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
        <FeedClock guard={guard} />
        <button type="button" class="corner" aria-label={texts.touch.more} onClick={() => setOpen('more')}>
          <MoreIcon />
        </button>
      </header>
      <Stage shown={shown} words={said} />
      {showing === 'guidance-off' && may('help') && (
        <button
          type="button"
          class="strong stage-button"
          onClick={() => command({ kind: 'guidance-off', on: false })}
        >
          {texts.live.guidanceOn}
        </button>
      )}
      {showing === 'cues-withheld' && may('help') && (
        <button type="button" class="stage-button" onClick={() => command({ kind: 'show-cues' })}>
          {texts.live.showCues}
        </button>
      )}
      {showing === 'waiting' && view?.feedState === 'ended' && view.feedId && !isUnkept(view) && (
        <a
          class="strong stage-button"
          href={addressOf(view.practice ? { page: 'practice' } : { page: 'after', id: view.feedId })}
        >
          {view.practice ? texts.live.ended.seePractice : texts.live.ended.seeFeed}
        </a>
      )}
      {feedOpen && <PaceLine ahead={guard.fresh ? view.aheadOfPace : null} state={lineState(guard)} />}
      <div class="note" role="status">
        {note ? <p>{note}</p> : <LastingNotices guard={guard} />}
      </div>
      <footer class="touches">
        <div class="touch-pair">
          <button type="button" class="signs-button" onClick={() => setOpen('signs')}>
            {texts.touch.signs}
          </button>
          {may('owner') &&
            (feedOpen ? (
              <button type="button" onClick={() => setOpen('end')}>
                {texts.touch.endFeed}
              </button>
            ) : (
              <a class="button" href={addressOf({ page: 'before' })}>
                {texts.go.before}
              </a>
            ))}
        </div>
        {may('help') && <TouchRow view={view} onCommand={command} />}
      </footer>
      {open === 'signs' && <StressSigns cue={isCue(showing) ? said.glance : null} onClose={close} />}
      {open === 'end' && <EndFeed onCommand={command} onClose={close} />}
      {open === 'more' && <MorePages feedOpen={feedOpen} onCommand={command} onClose={close} />}
    </main>
  );
}

/** These words are not loaded with the first screen; while the program is not running they cannot be loaded. */
async function inWords(refused: Refused, language: Language, texts: Texts): Promise<readonly string[]> {
  if (refused.code === UNREACHED.code) return [texts.refused.unreached, texts.refused.unreachedRemedy];
  try {
    return (await import('../parts/refusals.ts')).refusalText(refused, language, texts);
  } catch {
    return [refused.message, refused.remedy];
  }
}

/** The result of a touch, if nothing else on the page shows it. */
function doneText({ kind }: LiveCommand, { touch }: Texts): string | null {
  if (kind === 'burped') return touch.burpNoted;
  if (kind === 'hand-over') return touch.handedOver;
  return kind === 'which-sleeve' ? touch.sleeveGlows : null;
}

/** Faults that do not stop the feed, doubts about the calibration, then notices about baby and sleeve. */
function LastingNotices({ guard: { view, shown } }: { guard: Guard }) {
  const { language, words, texts } = useChoices();
  if (!view) return null;
  const trouble = noticeLine(view, language);
  const isWaiting = (view.unkept?.length ?? 0) > 0;
  if (trouble || isWaiting) {
    return (
      <>
        {isWaiting && <p>{texts.live.unkept}</p>}
        {trouble && <p lang={trouble.language}>{trouble.text}</p>}
      </>
    );
  }
  const isOpen = view.feedState === 'open';
  const kinds = noticesNow(view.notices ?? [], shown?.showing, isOpen, !!view.calibration);
  // In a feed at most one line, and none of it beside a cue.
  const isSaid = view.calibration && !(isOpen && (kinds.length > 0 || isCue(shown?.showing)));
  return (
    <>
      {isSaid && (
        <p>
          <CalibrationLine view={view} />
        </p>
      )}
      {kinds.map((kind) => (
        <p key={kind}>{noticeText(kind, language, words, view.sensorFaults)}</p>
      ))}
    </>
  );
}

function lineState({ shown }: Guard): LineState {
  if (shown?.showing === 'cannot-tell') return 'broken';
  if (!shown || ['no-guidance', 'guidance-off', 'cues-withheld'].includes(shown.showing)) return 'none';
  return 'drawn';
}
