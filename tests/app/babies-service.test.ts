/** Babies as the page enters them, joined with kept feeds. All invented. */
import { describe, expect, onTestFinished, test } from 'vitest';
import { babyService, guideFrom, pastFeeds } from '../../src/app/babies/babies-service.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { openStore } from '../../src/store/open-store.ts';
import { babyEntry, NO_TO_ALL } from '../support/babies.ts';
import { fieldRefusalOf } from '../support/refusals.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const NOW_MS = Date.UTC(2026, 0, 9, 12);
const HOUR_MS = 3600_000;

function serviceAt() {
  const store = openStore(temporaryFolder(), { recording: true, nowMs: () => NOW_MS });
  onTestFinished(() => store.close());
  const addFeed = (id: string, babyId: string, hoursAgo: number, intakeMl: number) => {
    const startedAtMs = NOW_MS - hoursAgo * HOUR_MS;
    const setup = { ...begunFeed(id).setup, babyId };
    store.begin(begunFeed(id, { startedAtMs, sampleZeroAtMs: startedAtMs, setup }), null);
    store.append(id, { ...partOfSecond(1), intakeMl, durationSec: 900 });
    store.finish(id, { endReason: 'button', endedAtMs: startedAtMs + 900_000, refined: null });
  };
  // Babies are listed by when they were added: not two in one millisecond.
  let ticks = 0;
  return {
    store,
    addFeed,
    service: babyService(store, () => NOW_MS + ticks++),
    guide: guideFrom(store, () => NOW_MS, false),
  };
}

const plan = (part = {}) => ({
  from: 'the clinic',
  lasting: { rateMlPerMin: 6, depthMl: 12 },
  pouring: { rateMlPerMin: 10, depthMl: 5 },
  rhythm: null,
  enough: true,
  ...part,
});

describe('the service for babies', () => {
  test('learns the usual feed and the quiet level from this baby’s feeds alone', () => {
    const { store, service, addFeed, guide } = serviceAt();
    const { baby } = service.add(babyEntry());
    const other = service.add(babyEntry({ name: 'Sol' })).baby;
    for (const i of [0, 1, 2]) {
      addFeed(`wren-${i}`, baby.id, 10 + i, 100 + 10 * i);
      addFeed(`sol-${i}`, other.id, 20 + i, 40);
    }
    store.writeSetup({ ...begunFeed('x').setup, babyId: baby.id });
    expect(pastFeeds(store, baby.id).map(({ intakeMl }) => intakeMl)).toEqual([100, 110, 120]);
    expect(
      service
        .babies()
        .babies.slice()
        .sort((a, b) => b.baby.name.localeCompare(a.baby.name)),
    ).toMatchObject([
      { baby: { name: 'Wren' }, learnedUsualMl: 110, notices: ['quieter'] },
      { baby: { name: 'Sol' }, learnedUsualMl: 40 },
    ]);
    expect(guide(store.readSetup())).toMatchObject({
      ran: { guidance: { quiet: 'quieter', usualFeedMl: 110 } },
      severalBabies: true,
    });
    expect(service.undoQuiet(baby.id).notices).toEqual([]);
    expect(guide(store.readSetup()).ran?.guidance.quiet).toBe('usual');
  });

  test('a feed that was given to the wrong baby counts for the right one once it is corrected', () => {
    const { store, service, addFeed } = serviceAt();
    const wren = service.add(babyEntry()).baby;
    const sol = service.add(babyEntry({ name: 'Sol' })).baby;
    addFeed('one', wren.id, 3, 80);
    store.correct('one', { kind: 'setup', setup: { babyId: sol.id, babyName: 'Sol' } });
    expect(pastFeeds(store, wren.id)).toEqual([]);
    expect(pastFeeds(store, sol.id)).toHaveLength(1);
  });

  test.each([
    ['plan.lasting.rateMlPerMin', { lasting: { rateMlPerMin: 900, depthMl: 12 } }],
    ['plan.pouring.depthMl', { pouring: { rateMlPerMin: 10, depthMl: 0.01 } }],
    ['plan.rhythm.sucks', { rhythm: { sucks: 500, pauseSec: 4 } }],
  ])('a plan out of range is refused at %s; nothing is kept', (field, part) => {
    const { store, service } = serviceAt();
    const entry = babyEntry({ plan: plan(part) });
    expect(fieldRefusalOf(() => service.add(entry))).toMatchObject({ field, code: 'plan-out-of-range' });
    expect(store.listBabies()).toEqual([]);
  });

  test('says what the answers came to, and asks for figures in the profile’s own ranges', () => {
    const { service } = serviceAt();
    const answers = { ...NO_TO_ALL, thickened: true };
    const { baby, notices } = service.add(babyEntry({ answers }));
    expect(notices).toEqual(['cues-off']);
    expect(service.change(baby.id, babyEntry({ answers, plan: plan() })).notices).toEqual(['with-plan']);
    const { value, min, max } = SHIPPED_PROFILE.buckets.lasting.rateMlPerMin;
    expect(service.babies().planFigures.lastingRate).toEqual({ value, min, max });
    expect(service.babies().questions).toHaveLength(Object.keys(NO_TO_ALL).length);
  });
});
