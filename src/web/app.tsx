import { useEndOfFeed } from './after/end-of-feed.ts';
import { LivePage } from './live/live-page.tsx';
import { useLive } from './live/use-live.ts';
import { ChoicesAround } from './parts/choices.tsx';
import { later } from './parts/later.tsx';
import { MoreAround } from './parts/more.tsx';
import { RightAround, useMay } from './parts/right.tsx';
import { type Route, useRoute } from './parts/route.ts';

/** Parts that are not needed to feed a baby are fetched when they are first opened. */
const BeforePage = later('before', async () => (await import('./before/before-page.tsx')).BeforePage);
const NoSleevePage = later('live', async () => (await import('./parts/no-sleeve-page.tsx')).NoSleevePage);
const BabyPage = later('baby', async () => (await import('./baby/baby-page.tsx')).BabyPage, 'baby');
const FeedsPage = later('feeds', async () => (await import('./feeds/feeds-page.tsx')).FeedsPage, 'feeds');
const AfterPage = later('after', async () => (await import('./after/after-page.tsx')).AfterPage, 'after');
const FeedPage = later('feed', async () => (await import('./feeds/feed-page.tsx')).FeedPage, 'feeds');
const ComparePage = later(
  'compare',
  async () => (await import('./feeds/compare-page.tsx')).ComparePage,
  'feeds',
);
const AlonePage = later('alone', async () => (await import('./feeds/alone-feeds.tsx')).AlonePage, 'feeds');
const DayPage = later('days', async () => (await import('./feeds/day-page.tsx')).DayPage, 'feeds');
const WeekPage = later('week', async () => (await import('./feeds/week-page.tsx')).WeekPage, 'feeds');
const WritePage = later(
  'write-feed',
  async () => (await import('./feeds/write-page.tsx')).WritePage,
  'feeds',
);
const PracticePage = later(
  'practice',
  async () => (await import('./practice/practice-page.tsx')).PracticePage,
  'practice',
);
const KeptPage = later('kept', async () => (await import('./kept/kept-page.tsx')).KeptPage, 'kept');
const SharingPage = later('sharing', async () => (await import('./sharing/sharing-page.tsx')).SharingPage);
const PackingPage = later(
  'packing',
  async () => (await import('./packing/packing-page.tsx')).PackingPage,
  'packing',
);
const MilkPage = later('milk', async () => (await import('./packing/milk-page.tsx')).MilkPage, 'packing');
const OwnersPage = later('live', async () => (await import('./parts/owners-page.tsx')).OwnersPage);
const NumbersPage = later('numbers', async () => (await import('./builder/numbers-page.tsx')).NumbersPage);

/** Pages whose actions are all refused to a device that may only watch or help. */
const OWNERS: ReadonlySet<Route['page']> = new Set(['before', 'baby', 'write-feed', 'packing', 'kept']);
const StudiesPage = later(
  'studies',
  async () => (await import('./study/studies-page.tsx')).StudiesPage,
  'feeds',
);
const StudyPage = later('study', async () => (await import('./study/study-page.tsx')).StudyPage, 'feeds');

/** The stream stays open on every page, so that a running feed is always seen. */
export function App() {
  return (
    <ChoicesAround>
      <RightAround>
        <MoreAround>
          <CurrentPage />
        </MoreAround>
      </RightAround>
    </ChoicesAround>
  );
}

function CurrentPage() {
  const guard = useLive();
  const route = useRoute();
  useEndOfFeed(guard.view, route.page === 'live');
  const may = useMay();
  if (OWNERS.has(route.page) && !may('owner')) return <OwnersPage guard={guard} />;
  switch (route.page) {
    case 'before':
      return <BeforePage guard={guard} />;
    case 'baby':
      return <BabyPage key={route.id ?? 'new'} id={route.id} guard={guard} />;
    case 'feeds':
      return <FeedsPage guard={guard} />;
    case 'feed':
      return <FeedPage key={route.id} id={route.id} guard={guard} />;
    case 'after':
      return <AfterPage key={route.id} id={route.id} guard={guard} />;
    case 'alone':
      return <AlonePage key={route.id} id={route.id} guard={guard} />;
    case 'compare':
      return <ComparePage first={route.first} second={route.second} guard={guard} />;
    case 'days':
      return <DayPage day={route.day ?? null} guard={guard} />;
    case 'week':
      return <WeekPage day={route.day ?? null} guard={guard} />;
    case 'write-feed':
      return <WritePage key={route.day} day={route.day ?? null} guard={guard} />;
    case 'practice':
      return <PracticePage guard={guard} />;
    case 'kept':
      return <KeptPage guard={guard} />;
    case 'sharing':
      return <SharingPage guard={guard} />;
    case 'packing':
      return <PackingPage guard={guard} />;
    case 'milk':
      return <MilkPage guard={guard} />;
    case 'numbers':
      return <NumbersPage guard={guard} />;
    case 'studies':
      return <StudiesPage guard={guard} />;
    case 'study':
      return <StudyPage key={route.code} code={route.code} guard={guard} />;
    case 'live':
      return guard.view?.noSleeve ? <NoSleevePage guard={guard} /> : <LivePage guard={guard} />;
  }
}
