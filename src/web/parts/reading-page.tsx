/** The frame of every page for reading: heading, body, cautions, links. */
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Guard } from '../live/guard.ts';
import { StressSigns } from '../live/sheets.tsx';
import { isCue, readingTone } from '../live/tone.ts';
import { useChoices } from './choices.tsx';
import { useMore } from './more.tsx';
import { useMay } from './right.tsx';
import { addressOf, type Route } from './route.ts';
import { styled } from './style-sheet.ts';
import { useIsDark, useTone } from './tone.ts';

export interface ReadingPageProps {
  title: string;
  page: Route['page'];
  guard: Guard;
  /** For pages with columns on a large screen. */
  wide?: boolean;
  children: ComponentChildren;
}

export function ReadingPage({ title, page, guard, wide = false, children }: ReadingPageProps) {
  const { texts, words } = useChoices();
  const openMore = useMore();
  useTone(readingTone(guard.view?.dimmed ?? false, useIsDark()));
  useEffect(() => {
    document.title = `${title} · Ebbline`;
  }, [title]);
  // The first screen of a feed does not wait for the typeface and uses the device's own.
  useEffect(() => {
    styled('type').catch(() => {});
  }, []);
  const isOwner = useMay()('owner');
  const ways: [Route, string][] = [
    [{ page: 'live' }, texts.go.now],
    ...(isOwner ? ([[{ page: 'before' }, texts.go.before]] as [Route, string][]) : []),
    [{ page: 'feeds' }, texts.go.feeds],
  ];
  return (
    <div class={wide ? 'reading wide' : 'reading'}>
      <FeedMeanwhile guard={guard} />
      <main>
        <h1>{title}</h1>
        {children}
      </main>
      <footer class="cautions">
        <p>{words.caution}</p>
      </footer>
      <nav class="ways" aria-label={texts.go.navigation}>
        {ways.map(([route, text]) => (
          <a key={route.page} href={addressOf(route)} aria-current={route.page === page ? 'page' : undefined}>
            {text}
          </a>
        ))}
        <button type="button" aria-label={`${texts.touch.more}: ${texts.go.navigation}`} onClick={openMore}>
          {texts.touch.more}
        </button>
      </nav>
    </div>
  );
}

/** During a feed every other page shows the live page's message, the way back, and the card of stress signs. */
function FeedMeanwhile({ guard }: { guard: Guard }) {
  const { texts, words } = useChoices();
  const [signs, setSigns] = useState(false);
  if (guard.view?.feedState !== 'open' || !guard.shown) return null;
  const { showing } = guard.shown;
  const { glance } = words.shown[showing];
  return (
    <>
      <div class="meanwhile" data-cue={isCue(showing)}>
        <a href={addressOf({ page: 'live' })} aria-live={isCue(showing) ? 'assertive' : 'polite'}>
          <strong>{glance}</strong> <span>{texts.live.backToFeed}</span>
        </a>
        <button type="button" onClick={() => setSigns(true)}>
          {texts.touch.signs}
        </button>
      </div>
      {signs && <StressSigns cue={isCue(showing) ? glance : null} onClose={() => setSigns(false)} />}
    </>
  );
}
