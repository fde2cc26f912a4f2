/** Pages that are fetched when first opened, so that the live page loads at once. */
import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Guard } from '../live/guard.ts';
import { useChoices } from './choices.tsx';
import { ReadingPage } from './reading-page.tsx';
import type { Route } from './route.ts';
import { styled } from './style-sheet.ts';

/**
 * @param page       name of the page, marked as the current one while it loads
 * @param fetchPage  an `import()` of the page's file that gives its component
 * @param style      name of the folder in src/web whose own style sheet it needs (`feeds` for feeds/feeds.css)
 * @returns a component that shows a line of text until the page is loaded. A running feed's cue is shown above it all the time.
 */
export function later<P extends { guard: Guard }>(
  page: Route['page'],
  fetchPage: () => Promise<ComponentType<P>>,
  style?: string,
): ComponentType<P> {
  let Page: ComponentType<P> | null = null;
  return function Later(props: P) {
    const { texts } = useChoices();
    const [state, setState] = useState<'coming' | 'here' | 'away'>(Page ? 'here' : 'coming');
    useEffect(() => {
      if (Page) return;
      Promise.all([fetchPage(), style && styled(style)]).then(
        ([fetched]) => {
          Page = fetched;
          setState('here');
        },
        () => setState('away'),
      );
    }, []);
    if (Page) return <Page {...props} />;
    return (
      <ReadingPage title={texts.live.oneMoment} page={page} guard={props.guard}>
        {/* Not `RefusedNotice`: it would load the texts of all refusals with the first screen. */}
        {state === 'away' && (
          <p class="refused" role="alert">
            <strong>{texts.refused.unreached}</strong> {texts.refused.unreachedRemedy}
          </p>
        )}
      </ReadingPage>
    );
  };
}
