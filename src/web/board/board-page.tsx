/** The board: all feeds of a room on one screen, the most urgent first. Its background never changes with a cue, so that a tablet does not light up a dark room. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { BoardCot, BoardView, Stopped } from '../../ward/board/board-view.ts';
import type { Need } from '../../ward/board/needs.ts';
import { StressSigns } from '../live/sheets.tsx';
import { readingTone } from '../live/tone.ts';
import { useAwake } from '../parts/awake.ts';
import { useBrowserChoice } from '../parts/browser-choice.ts';
import { useChoices } from '../parts/choices.tsx';
import { useIsDark, useTone } from '../parts/tone.ts';
import { LanguageChoice } from '../parts/ways.tsx';
import { BoardPages, may, OpenedPage, SignOut, useHash, useMe } from './board-ways.tsx';
import { BOARD_WORDS } from './board-words.ts';
import { CotCard, cotSays } from './cot-card.tsx';
import { useBoard } from './use-board.ts';
import { WARD_WORDS } from './ward-words.ts';

/** Sections in the order shown; the rule is in ward/board/needs.ts. */
const SECTIONS: readonly Need[] = ['look', 'again', 'cue', 'enough', 'hint', 'waiting', 'quiet'];
/** Needs that are announced to a screen reader. */
const CALLING: ReadonlySet<Need> = new Set(['look', 'again', 'cue', 'enough']);

export function BoardPage() {
  const { language, texts, words } = useChoices();
  const own = BOARD_WORDS[language];
  const me = useMe();
  const page = useHash();
  const [dimmed, setDimmed] = useBrowserChoice('ebbline.board-dimmed', ['yes', 'no'] as const, 'no');
  const [signs, setSigns] = useState(false);
  const { view, isLost } = useBoard(me.state !== 'unknown' && may(me, 'board'));
  useTone(readingTone(dimmed === 'yes', useIsDark()));
  useAwake(true);
  const title = view ? own.title(view.room) : 'Ebbline';
  useEffect(() => {
    document.title = `${title} · Ebbline`;
  }, [title]);
  return (
    <div class="board">
      <header class="board-head">
        <div>
          <h1>{title}</h1>
          {view?.isDemo && <p class="tag">{own.demo}</p>}
        </div>
        <BoardPages me={me} page={page} />
        <button
          type="button"
          aria-pressed={dimmed === 'yes'}
          onClick={() => setDimmed(dimmed === 'yes' ? 'no' : 'yes')}
        >
          {texts.touch.dim}
        </button>
        <button type="button" class="signs-button" onClick={() => setSigns(true)}>
          {texts.touch.signs}
        </button>
      </header>
      <main>
        <div role="alert">
          {isLost && may(me, 'board') && <p class="lost">{own.lost}</p>}
          {!isLost && view?.isCutOff && <p class="lost">{own.cutOff}</p>}
          {/* Where labels are scanned, this is shown beside the scanned items. */}
          {!isLost &&
            page !== 'bind' &&
            view?.stopped.map((one) => <StoppedFeed key={`${one.cot} ${one.code}`} stopped={one} />)}
        </div>
        <OpenedPage me={me} page={page}>
          {!view && !isLost && <p>{texts.live.oneMoment}</p>}
          {view && !isLost && <Cots view={view} />}
        </OpenedPage>
      </main>
      <footer class="board-foot">
        {page === 'board' && may(me, 'board') && <p>{own.order}</p>}
        <p>
          {own.quietNote} {words.caution}
        </p>
        <LanguageChoice />
        <SignOut me={me} />
      </footer>
      {signs && <StressSigns cue={null} onClose={() => setSigns(false)} />}
    </div>
  );
}

/** A feed that must not begin: shown on every page of the ward. */
function StoppedFeed({ stopped: { cot, code } }: { stopped: Stopped }) {
  const own = WARD_WORDS[useChoices().language];
  return (
    <div class="stopped">
      <p class="stopped-word">{own.stop}</p>
      <p>
        {cot !== null && own.atCot(cot)} {own.stops[code]}
      </p>
    </div>
  );
}

function Cots({ view }: { view: BoardView }) {
  const own = BOARD_WORDS[useChoices().language];
  const news = useNews(view.cots);
  return (
    <>
      <div class="for-ears" aria-live="polite">
        {news}
      </div>
      {view.cots.length === 0 && <p>{own.none}</p>}
      <div class="needs">
        {SECTIONS.map((need) => {
          const cots = view.cots.filter((one) => one.need === need);
          if (cots.length === 0) return null;
          return (
            <section key={need} class="need" data-need={need} aria-labelledby={`need-${need}`}>
              <h2 id={`need-${need}`}>{own.needs[need]}</h2>
              <ul>
                {cots.map((cot) => (
                  <CotCard key={cot.sleeve} cot={cot} isLarge={CALLING.has(need)} />
                ))}
              </ul>
            </section>
          );
        })}
      </div>
    </>
  );
}

/** @returns a sentence for screen readers for each cot that has just come to need a hand */
function useNews(cots: readonly BoardCot[]): string {
  const choices = useChoices();
  const before = useRef<ReadonlySet<string>>(new Set());
  const said = useRef('');
  const calling = cots.filter(({ need }) => CALLING.has(need));
  const keys = new Set(calling.map(({ sleeve, showing }) => `${sleeve} ${showing}`));
  const fresh = calling.filter(({ sleeve, showing }) => !before.current.has(`${sleeve} ${showing}`));
  before.current = keys;
  if (fresh.length > 0) said.current = fresh.map((cot) => cotSays(cot, choices)).join('. ');
  return said.current;
}
