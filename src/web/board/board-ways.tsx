/** The other pages of the ward, shown to those who may open them. */
import type { ComponentChildren, ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { MeAnswer } from '../../app/ward/ward-answers.ts';
import type { Act } from '../../ward/people/roles.ts';
import { useChoices } from '../parts/choices.tsx';
import { styled } from '../parts/style-sheet.ts';
import { WARD_WORDS, type WardWords } from './ward-words.ts';

/** `alone`: a board without children and labels, as in the demo. */
export type Me = { state: 'unknown' | 'nobody' | 'alone' } | { state: 'known'; me: MeAnswer };
export type BoardRoute = 'board' | 'bind' | 'fill' | 'handover' | 'trail' | 'own' | 'studies';

export const may = (me: Me, act: Act): boolean =>
  me.state === 'known' ? me.me.acts.includes(act) : me.state === 'alone' && act === 'board';

export function useMe(): Me {
  const [me, setMe] = useState<Me>({ state: 'unknown' });
  useEffect(() => {
    fetch('/me').then(
      async (answer) => {
        if (answer.ok) {
          const known: MeAnswer = await answer.json();
          setMe({ state: 'known', me: known });
        } else setMe({ state: answer.status === 401 ? 'nobody' : 'alone' });
      },
      // The board itself reports that it gets no messages.
      () => setMe({ state: 'alone' }),
    );
  }, []);
  return me;
}

const ROUTES: readonly BoardRoute[] = ['board', 'bind', 'fill', 'handover', 'trail', 'own', 'studies'];
const NEEDS: Record<BoardRoute, Act> = {
  board: 'board',
  bind: 'bind',
  fill: 'bind',
  handover: 'bind',
  trail: 'trail',
  own: 'own-child',
  studies: 'coded',
};

/** One study is a page of studies. */
const routeOf = (hash: string): BoardRoute => ROUTES.find((route) => hash.split('/')[1] === route) ?? 'board';

export function useHash(): BoardRoute {
  const [route, setRoute] = useState(() => routeOf(location.hash));
  useEffect(() => {
    const look = () => setRoute(routeOf(location.hash));
    addEventListener('hashchange', look);
    return () => removeEventListener('hashchange', look);
  }, []);
  return route;
}

export function BoardPages({ me, page }: { me: Me; page: BoardRoute }) {
  const own = WARD_WORDS[useChoices().language];
  if (me.state !== 'known') return null;
  const shown = ROUTES.filter((route) => may(me, NEEDS[route]));
  if (shown.length < 2) return null;
  return (
    <nav class="board-pages" aria-label={own.navigation}>
      {shown.map((route) => (
        <a key={route} href={`#/${route}`} aria-current={route === page ? 'page' : undefined}>
          {own[route]}
        </a>
      ))}
    </nav>
  );
}

/** A tablet goes from hand to hand: whoever signed in is named. At the computer itself nobody did. */
export function SignOut({ me }: { me: Me }) {
  const own = WARD_WORDS[useChoices().language];
  if (me.state !== 'known' || me.me.name === '') return null;
  const leave = async () => {
    await fetch('/sign-out', { method: 'POST' }).catch(() => {});
    location.assign('/');
  };
  return (
    <p class="signed-in">
      {me.me.name}{' '}
      <button type="button" onClick={() => void leave()}>
        {own.signOut}
      </button>
    </p>
  );
}

/** @returns why whoever comes from the provider is not signed in; null for who does not */
function whyRefused(): keyof WardWords['notSignedIn'] | null {
  const code = new URLSearchParams(location.search).get('refused');
  return code === null ? null : code === 'sign-in-no-role' ? code : 'sign-in-failed';
}

type Later = Exclude<BoardRoute, 'board'>;
/** Fetched when first opened, so that the board loads at once. */
const PAGES: Record<Later, () => Promise<ComponentType>> = {
  bind: async () => (await import('./bind-page.tsx')).BindPage,
  fill: async () => (await import('./fill-page.tsx')).FillPage,
  handover: async () => {
    const { HandoverPage } = await import('./handover-page.tsx');
    return () => <HandoverPage of="shift" />;
  },
  trail: async () => (await import('./trail-page.tsx')).TrailPage,
  own: async () => {
    const { HandoverPage } = await import('./handover-page.tsx');
    return () => <HandoverPage of="own" />;
  },
  studies: async () => {
    const [{ BoardStudies }] = await Promise.all([import('./board-studies.tsx'), styled('study')]);
    return BoardStudies;
  },
};

/** @param children  the board */
export function OpenedPage({
  me,
  page,
  children,
}: {
  me: Me;
  page: BoardRoute;
  children: ComponentChildren;
}) {
  const { language, texts } = useChoices();
  const own = WARD_WORDS[language];
  const refused = whyRefused();
  if (me.state === 'unknown') return <p>{texts.live.oneMoment}</p>;
  if (me.state === 'nobody')
    return (
      <div class="binding">
        <p role={refused ? 'alert' : undefined}>{refused ? own.notSignedIn[refused] : own.signInSay}</p>
        <a class="strong" href="/sign-in">
          {own.signIn}
        </a>
      </div>
    );
  // Parents and researchers have no board: what they may see comes first.
  const shown = may(me, NEEDS[page]) ? page : (ROUTES.find((route) => may(me, NEEDS[route])) ?? 'board');
  if (shown !== 'board') return <LaterPage key={shown} page={shown} />;
  return may(me, 'board') ? children : null;
}

function LaterPage({ page }: { page: Later }) {
  const { texts } = useChoices();
  const [Page, setPage] = useState<ComponentType | null>(null);
  const [isAway, setAway] = useState(false);
  useEffect(() => {
    PAGES[page]().then(
      (fetched) => setPage(() => fetched),
      () => setAway(true),
    );
  }, [page]);
  if (Page) return <Page />;
  return <p>{isAway ? texts.refused.unreached : texts.live.oneMoment}</p>;
}
