/** What belongs to a feed of a house beside its rows: whose it is, which study's, and what its bottle holds afterwards. */
import { describe, expect, it, onTestFinished } from 'vitest';
import type { Aside } from '../../../src/app/aside/aside.ts';
import { StudyFolder, studiesAmong } from '../../../src/app/study/study-folder.ts';
import { type Arranging, consent, endConsent, sayNext } from '../../../src/app/ward/arranging.ts';
import { nextSetup } from '../../../src/app/ward/next-setup.ts';
import { afterFeeds } from '../../../src/app/work/storing/after-feeds.ts';
import { PlainError } from '../../../src/base/errors.ts';
import { storedLedger } from '../../../src/planning/milk/stored-ledger.ts';
import type { FeedStore } from '../../../src/store/feed-store.ts';
import { openStore } from '../../../src/store/open-store.ts';
import { begunFeed, partOfSecond } from '../../support/store-samples.ts';
import { PROTOCOL } from '../../support/study.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { ANA, CODES, NOON, wardHouse } from '../../support/ward-house.ts';

const MINUTE = 60_000;

function house() {
  const home = wardHouse();
  const { store, first } = home;
  const arranging: Arranging = { store, who: ANA, nowMs: () => NOON, random: () => 0 };
  const study = StudyFolder.begin(studiesAmong(store.files), PROTOCOL, {
    nowMs: () => NOON,
    drawSeed: () => 7,
  });
  study.enroll('F07', 'all');
  const said: string[] = [];
  const after = afterFeeds(store, {
    aside: null,
    nowMs: () => NOON + 20 * MINUTE,
    say: (text) => said.push(text),
  });
  const bind = () => {
    home.service.fill({ bottle: CODES.bottle, child: CODES.first, ml: 90, from: null, kind: 'formula' }, ANA);
    return home.service.bind([CODES.first, CODES.bottle, CODES.sleeve], ANA);
  };
  const bound = () => store.ward(({ records }) => records.bindings().at(-1) ?? null);
  const setup = () => nextSetup(store, bound(), NOON, new Map());
  /** A feed of ten minutes on sleeve 7. */
  const feed = (id: string, takenMl: number) => {
    const begun = begunFeed(id, {
      ...{ sleeveId: '7', setup: setup(), startedAtMs: NOON + MINUTE, sampleZeroAtMs: NOON + MINUTE },
    });
    store.begin(begun, {});
    after.begun(begun);
    store.append(id, { ...partOfSecond(0), intakeMl: takenMl, durationSec: 600 });
    store.finish(id, { endReason: 'button', endedAtMs: NOON + 11 * MINUTE, refined: null });
    home.later(20 * MINUTE);
    after.over(id);
  };
  return { ...home, arranging, study, said, after, bind, bound, setup, feed, baby: first };
}

describe('what the next feed of a child begins with', () => {
  it('is what labels and the milk ledger say, and nothing before they were scanned', () => {
    const { setup, bind, baby } = house();
    expect(setup()).toMatchObject({ babyName: null, portionMl: null });
    expect(bind()).toMatchObject({ state: 'bound' });
    expect(setup()).toMatchObject({ babyId: baby, babyName: 'Ilo', milkKind: 'formula', portionMl: 90 });
  });

  it('names nipple and study as they were said, the study only while research is allowed', () => {
    const { setup, bind, arranging, trail, store, baby } = house();
    bind();
    expect(
      sayNext(arranging, { child: 'Ilo', teat: 'Blue ring', study: { study: 'pace-1', participant: 'F07' } }),
    ).toBe(false);
    expect(setup()).toMatchObject({ teatName: 'Blue ring' });
    expect(setup().study).toBeUndefined();
    consent(arranging, { child: 'Ilo', what: 'research', person: null, untilMs: null });
    expect(setup()).toMatchObject({ study: 'pace-1', participant: 'F07' });
    endConsent(arranging, { child: 'Ilo', what: 'research', person: null });
    expect(setup().study).toBeUndefined();
    sayNext(arranging, { child: 'Ilo', teat: null });
    expect(setup().teatName).toBeUndefined();
    expect(trail().map(({ act }) => act)).toContain('said-next-feeds');
    // When a child is forgotten, its settings for the next feeds go too.
    store.ward(({ records }) => records.forget(baby));
    expect(store.ward(({ records }) => records.nextFeeds())).toEqual({});
  });

  it('is refused where the study knows no such participant', () => {
    const { arranging, store } = house();
    const asked = (study: string, participant: string) => () =>
      sayNext(arranging, { child: 'Ilo', study: { study, participant } });
    expect(asked('pace-1', 'F99')).toThrow(/F99 is not in the study/);
    expect(asked('other', 'F07')).toThrow(/no study other/);
    expect(store.ward(({ records }) => records.nextFeeds())).toEqual({});
  });
});

describe('a feed that was bound by labels', () => {
  it('is a session of its study, and what is left of its bottle is in the milk ledger, each once', () => {
    const { arranging, study, bind, feed, after, store, said } = house();
    sayNext(arranging, { child: 'Ilo', study: { study: 'pace-1', participant: 'F07' } });
    consent(arranging, { child: 'Ilo', what: 'research', person: null, untilMs: null });
    bind();
    feed('one', 60);
    // Another worker reports the same feed again.
    after.begun(store.get('one')!);
    after.over('one');
    expect(study.sessions().map(({ session, feed: of }) => [session, of])).toEqual([['F07-001', 'one']]);
    const events = store.readMilkEvents();
    expect(events.map(({ entry }) => (entry as { what: string }).what)).toEqual(['got', 'offered', 'fed']);
    const { ledger, leftOut } = storedLedger(events, NOON + 30 * MINUTE);
    expect(leftOut).toEqual([]);
    const [left] = Object.values(ledger.containers);
    expect(left).toMatchObject({ container: { volumeMl: 30 }, gone: null, offered: { feed: 'one' } });
    expect(ledger.totals).toMatchObject({ gotMl: 90, fedMl: 60 });
    expect(said).toEqual([]);
    expect(store.ward(({ records }) => [records.bindings(), records.fillings()])).toEqual([[], []]);
  });

  it('that was not bound to a child is in no milk ledger and no study', () => {
    const { feed, store, study } = house();
    feed('one', 60);
    expect(store.readMilkEvents()).toEqual([]);
    expect(study.sessions()).toEqual([]);
  });

  it('is kept though its study is closed, which is said once and tried again', () => {
    const { arranging, study, bind, feed, after, said, store } = house();
    sayNext(arranging, { child: 'Ilo', study: { study: 'pace-1', participant: 'F07' } });
    consent(arranging, { child: 'Ilo', what: 'research', person: null, untilMs: null });
    study.audit('closed', 'pace-1');
    bind();
    feed('one', 60);
    after.look();
    expect(store.get('one')!.state).toBe('ended');
    expect(said).toEqual([expect.stringMatching(/one is not bound to study pace-1 yet.*closed/)]);
    expect(study.sessions()).toEqual([]);
  });
});

describe('a feed that is over', () => {
  it('is refined and packed aside, and by whoever looks next where that failed', async () => {
    const store = openStore(temporaryFolder(), { recording: true, packsLater: true, nowMs: () => NOON });
    onTestFinished(() => store.close());
    const asked: string[] = [];
    let isBusy = true;
    const run = async (job: string, feedId: unknown) => {
      asked.push(`${job} ${feedId}`);
      if (isBusy) throw new PlainError('aside-busy', 'Busy.', 'Wait.');
      return job === 'packCapture' ? store.packCapture(String(feedId)) : null;
    };
    const aside = { run } as unknown as Pick<Aside, 'run'>;
    const after = afterFeeds(store, { aside, nowMs: () => NOON, say: () => {} });
    const begun = begunFeed('one', { sleeveId: '7', startedAtMs: NOON, sampleZeroAtMs: NOON });
    store.begin(begun, {});
    after.begun(begun);
    store.append('one', partOfSecond(0));
    store.finish('one', { endReason: 'button', endedAtMs: NOON, refined: null });
    after.over('one');
    const settled = async () => {
      for (let turns = 0; turns < 20; turns++) await Promise.resolve();
    };
    await settled();
    expect(asked).toEqual(['refined one']);
    isBusy = false;
    after.look();
    await settled();
    expect(asked.slice(1)).toEqual(['refined one', 'packCapture one']);
    after.close();
    after.look();
  });

  it('that nobody goes on with for a day ends where it stood', () => {
    const { store } = wardHouse();
    const begun = begunFeed('one', { sleeveId: '7', startedAtMs: NOON, sampleZeroAtMs: NOON });
    store.begin(begun, {});
    store.append('one', partOfSecond(0));
    let nowMs = NOON + 23 * 60 * MINUTE;
    // A feed that a dead process left unfinished.
    const left = {
      unfinished: () => [store.get('one')!],
      recover: (id: string) => store.recover(id, null),
    } as unknown as FeedStore;
    const after = afterFeeds(left, { aside: null, nowMs: () => nowMs, say: () => {} });
    after.look();
    expect(store.get('one')!.state).toBe('open');
    nowMs += 2 * 60 * MINUTE;
    after.look();
    expect(store.get('one')).toMatchObject({ state: 'ended', endReason: 'link-ended' });
  });
});
