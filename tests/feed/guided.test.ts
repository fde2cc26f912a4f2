/** From a baby to what its next feed runs with. Babies and feeds are invented; ages are counted by the calendar. */
import { describe, expect, it } from 'vitest';
import type { Baby, PastFeed } from '../../src/feed/record/baby.ts';
import type { FeedSetup } from '../../src/feed/record/feed.ts';
import { ageDaysAt, guidedBaby, guidedSetup, learnedUsualMl } from '../../src/feed/recording/guided.ts';
import { teatNotices } from '../../src/feed/recording/teat-notices.ts';
import { UNASKED_GUIDANCE } from '../../src/pacing/guidance.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { HELD_BACK } from '../../src/pacing/screening.ts';
import { babyEntry, NO_TO_ALL } from '../support/babies.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';

const DAY_MS = 24 * 3600_000;
const NOW_MS = Date.UTC(2026, 0, 10, 12);

const baby = (part: Partial<Baby> = {}): Baby => ({
  ...babyEntry(),
  id: 'b-1',
  createdAtMs: NOW_MS - 60 * DAY_MS,
  answeredAtMs: NOW_MS - 60 * DAY_MS,
  quietSinceMs: null,
  ...part,
});
const feed = (part: Partial<PastFeed> = {}): PastFeed => ({
  atMs: NOW_MS - DAY_MS,
  intakeMl: 90,
  durationSec: 900,
  caregiver: null,
  cueCounts: { burp: 1 },
  ...part,
});
const guided = (part: Partial<Baby> = {}, past: PastFeed[] = [], caregiver: string | null = null) =>
  guidedBaby(baby(part), past, caregiver, NOW_MS);

const PLAN: Baby['plan'] = {
  from: 'the feeding clinic',
  lasting: { rateMlPerMin: 6, depthMl: 12 },
  pouring: { rateMlPerMin: 10, depthMl: 5 },
  rhythm: { sucks: 4, pauseSec: 4 },
  enough: false,
};

describe('the age', () => {
  it('is counted in days from the birth date', () => {
    expect(ageDaysAt('2026-01-10', NOW_MS)).toBe(0);
    expect(ageDaysAt('2025-12-31', NOW_MS)).toBe(10);
    expect(ageDaysAt(null, NOW_MS)).toBeNull();
  });
});

describe('the usual feed', () => {
  it('is the middle of the latest feeds, and unknown before there are three', () => {
    const feeds = (volumes: number[]) => volumes.map((intakeMl) => feed({ intakeMl }));
    expect(learnedUsualMl(feeds([90, 100]))).toBeNull();
    expect(learnedUsualMl(feeds([90, 140, 100]))).toBe(100);
    expect(learnedUsualMl(feeds([90, 140, 100, 110]))).toBe(105);
    // Tries and refusals are no feeds; older than the latest ten no longer count.
    expect(learnedUsualMl([...feeds([5, 90, 100]), feed({ durationSec: 60 })])).toBeNull();
    expect(learnedUsualMl(feeds([...Array(10).fill(80), ...Array(20).fill(200)]))).toBe(80);
  });

  it('scales the pace: learned, or entered, which goes before', () => {
    const past = [120, 130, 140].map((intakeMl) => feed({ intakeMl }));
    expect(guided({}, past).ran.profile.buckets.lasting.rateMlPerMin.value).toBeCloseTo(0.09 * 130, 6);
    expect(guided({}, past).ran.guidance.usualFeedMl).toBe(130);
    const entered = guided({ usualFeedMl: 200 }, past).ran.profile;
    expect(entered.buckets.lasting.rateMlPerMin.value).toBeCloseTo(0.09 * 200, 6);
    expect(guided().ran.profile).toBe(SHIPPED_PROFILE);
  });

  it('is not needed for a gentle or a strict pace', () => {
    const rate = (pace: Baby['pace']) => guided({ pace }).ran.profile.buckets.lasting.rateMlPerMin.value;
    expect([rate('gentle'), rate('usual'), rate('strict')]).toEqual([10, 8, 6.4]);
  });

  it('with her own minutes shapes the pace, unless the family does not breastfeed', () => {
    const breast = { minutes: 8, sides: 1 } as const;
    const depth = (part: Partial<Baby>) =>
      guided({ usualFeedMl: 120, breast, ...part }).ran.profile.buckets.lasting.depthMl;
    expect(depth({}).value).toBeGreaterThan(depth({ breastfed: false }).value);
    expect(depth({ breastfed: false }).source).not.toContain('her own');
    expect(guided({ usualFeedMl: 300, breast: { minutes: 3, sides: 1 } }).notices).toContain(
      'own-feed-faster',
    );
  });
});

describe('the screening', () => {
  it.each(Object.keys(NO_TO_ALL))('%s: slower and enough are off, and it is said', (id) => {
    const { ran, notices } = guided({ answers: { ...NO_TO_ALL, [id]: true } });
    expect(ran.guidance.cuesOff).toEqual(expect.arrayContaining([...HELD_BACK]));
    expect(notices).toContain('cues-off');
  });

  it('all no: nothing is off and nothing is said', () => {
    expect(guided()).toMatchObject({ notices: [], ran: { guidance: { cuesOff: [] } } });
  });

  it('a birth date under six weeks ago answers for itself', () => {
    expect(guided({ birthDate: '2025-12-05' }).notices).toEqual(['cues-off']);
    expect(guided({ birthDate: '2025-11-20' }).notices).toEqual([]);
  });

  it('is asked again once six weeks have passed since it was answered for a newborn', () => {
    const answers = { ...NO_TO_ALL, 'newborn-or-slow-gain': true };
    const part = { answers, birthDate: '2025-11-20', answeredAtMs: Date.UTC(2025, 10, 25) };
    expect(guided(part).notices).toEqual(['screen-again', 'cues-off']);
    expect(guided({ ...part, answeredAtMs: NOW_MS }).notices).toEqual(['cues-off']);
  });

  it("a clinician's plan sets rates and pauses, and says so", () => {
    const { ran, notices } = guided({ answers: { ...NO_TO_ALL, 'born-early': true }, plan: PLAN });
    expect(ran.profile.buckets.lasting.rateMlPerMin).toMatchObject({
      value: 6,
      source: 'plan of the feeding clinic',
    });
    expect(ran.profile.suckRhythm.sucks.value).toBe(4);
    expect(ran.guidance).toMatchObject({ suckRhythm: true, cuesOff: ['offer-stop'] });
    expect(notices).toEqual(['with-plan']);
  });

  it('a plan with a figure out of its range is refused', () => {
    const plan = { ...PLAN, lasting: { rateMlPerMin: 400, depthMl: 12 } };
    expect(() => guided({ plan })).toThrow(/lasting\.rateMlPerMin/);
  });
});

describe('the quiet level', () => {
  const calm = (count: number, part: Partial<PastFeed> = {}) =>
    Array.from({ length: count }, () => feed({ caregiver: 'Juno', ...part }));

  it('grows from the feeds of this caregiver, and is said', () => {
    expect(guided({}, calm(3), 'juno')).toMatchObject({
      notices: ['quieter'],
      ran: { guidance: { quiet: 'quieter' } },
    });
    expect(guided({}, calm(6), 'Juno').notices).toEqual(['quietest']);
    expect(guided({}, calm(6), 'Ash').notices).toEqual([]);
    expect(
      guided({}, [feed({ caregiver: 'Juno', cueCounts: { 'tilt-down': 2 } }), ...calm(6)], 'Juno').notices,
    ).toEqual([]);
  });

  it('taken back, counts only feeds from then on', () => {
    const quietSinceMs = NOW_MS - DAY_MS / 2;
    expect(guided({ quietSinceMs }, calm(6), 'Juno').ran.guidance.quiet).toBe('usual');
    const later = calm(3, { atMs: NOW_MS - DAY_MS / 4 });
    expect(guided({ quietSinceMs }, [...later, ...calm(6)], 'Juno').ran.guidance.quiet).toBe('quieter');
  });

  it('stays usual where cues are off: few of them say nothing then', () => {
    const answers = { ...NO_TO_ALL, jaundice: true };
    expect(guided({ answers }, calm(6), 'Juno').notices).toEqual(['cues-off']);
  });
});

describe('whose feed it is', () => {
  const two = [baby(), baby({ id: 'b-2', name: 'Sol', answers: { ...NO_TO_ALL, cleft: true } })];
  const of = (babyId: string | null, babies = two) =>
    guidedSetup({ ...EMPTY_SETUP, babyId }, babies, () => [], NOW_MS, true);

  it('is the baby of the answers', () => {
    expect(of('b-1')).toMatchObject({ notices: [], severalBabies: true });
    expect(of('b-2').notices).toEqual(['cues-off']);
  });

  it('unknown, with a baby that it may be and whose cues are off: they are off', () => {
    expect(of(null)).toMatchObject({
      notices: ['whose-feed', 'cues-off'],
      ran: { guidance: { cuesOff: HELD_BACK } },
    });
    expect(of(null, [baby()])).toMatchObject({
      ran: { guidance: UNASKED_GUIDANCE },
      notices: [],
      severalBabies: false,
    });
    expect(of(null, [])).toMatchObject({
      ran: { guidance: UNASKED_GUIDANCE },
      notices: [],
      severalBabies: false,
    });
  });
});

describe('a baby that was never asked about: no "slower", no "enough", from every door', () => {
  const held = { guidance: { cuesOff: HELD_BACK } };
  const of = (typed: Partial<FeedSetup>, babies: Baby[] = [], simulated = false) =>
    guidedSetup({ ...EMPTY_SETUP, ...typed }, babies, () => [], NOW_MS, simulated);

  it.each([false, true])('a newborn that was typed in before the feed (simulated: %s)', (simulated) => {
    const typed = { babyName: 'Wren', babyBirthDate: '2025-12-27' };
    const { ran, notices } = of(typed, [], simulated);
    expect(ran).toMatchObject({ guidance: { cuesOff: HELD_BACK, babyAgeDays: 14 } });
    expect(notices).toEqual(['cues-off', 'not-screened']);
  });

  it.each([false, true])('an older one, or a name or a birth date alone (simulated: %s)', (simulated) => {
    for (const typed of [
      { babyName: 'Wren', babyBirthDate: '2025-06-01' },
      { babyName: 'Wren' },
      { babyBirthDate: '2025-06-01' },
      { babyId: 'b-forgotten' },
    ]) {
      expect(of(typed, [], simulated)).toMatchObject({ ran: held, notices: ['not-screened'] });
    }
  });

  it('nobody named on a real sleeve, whoever is kept; a simulated feed goes on as it was', () => {
    expect(of({})).toMatchObject({ ran: held, notices: ['not-screened'] });
    expect(of({}, [baby()])).toMatchObject({ ran: held, notices: ['not-screened'] });
    expect(of({}, [baby()], true)).toMatchObject({
      ran: { guidance: UNASKED_GUIDANCE },
      notices: [],
      severalBabies: false,
    });
  });

  it('a name like that of a kept baby is not that baby', () => {
    expect(of({ babyName: baby().name }, [baby()])).toMatchObject({ ran: held, notices: ['not-screened'] });
  });

  it('a kept baby under another name and birth date: the youngest date counts', () => {
    const renamed = { babyId: 'b-1', babyName: 'Sol', babyBirthDate: '2025-12-27' };
    expect(of(renamed, [baby()]).ran!.guidance.cuesOff).toEqual(HELD_BACK);
    expect(of({ ...renamed, babyBirthDate: '2025-06-01' }, [baby()]).notices).toEqual([]);
    const young = baby({ name: 'Sol', birthDate: '2025-12-27' });
    expect(of({ babyId: 'b-1', babyName: 'Wren', babyBirthDate: '2025-06-01' }, [young]).notices).toEqual([
      'cues-off',
    ]);
  });

  it('a kept baby with a question that has no answer, as an older file may bring it', () => {
    const { cleft: _unasked, ...answers } = NO_TO_ALL;
    for (const plan of [null, PLAN]) {
      const brought = baby({ answers: answers as Baby['answers'], plan });
      expect(of({ babyId: 'b-1' }, [brought])).toMatchObject({ ran: held, notices: ['not-screened'] });
    }
  });

  it('a birth date that cannot be read is taken for a newborn', () => {
    expect(of({ babyId: 'b-1' }, [baby({ birthDate: 'in spring' })]).notices).toEqual(['cues-off']);
  });
});

describe('a nipple that pours again and again', () => {
  const poured = (count: number, teat: PastFeed['teat'] = {}) =>
    Array.from({ length: count }, () => feed({ cueCounts: { 'tilt-down': 2 }, teat }));
  const calm = (count: number, teat: PastFeed['teat'] = {}) =>
    Array.from({ length: count }, () => feed({ cueCounts: { 'tilt-down': 1 }, teat }));
  const wide = { teatName: 'Wide', teatFlow: null };

  it('is asked about once three of the latest five feeds poured, and not before', () => {
    expect(teatNotices(poured(2), {})).toEqual([]);
    expect(teatNotices([...poured(2), ...calm(3), ...poured(3)], {})).toEqual([]);
    expect(teatNotices([...calm(2), ...poured(3)], {})).toEqual(['nipple-pours']);
  });

  it('is another nipple when its name or its flow is another', () => {
    expect(teatNotices(poured(3, wide), { teatName: 'wide' })).toEqual(['nipple-pours']);
    expect(teatNotices(poured(3, wide), { teatName: 'Round' })).toEqual([]);
    expect(teatNotices(poured(3, wide), { teatName: 'Wide', teatFlow: 'slow' })).toEqual([]);
  });

  it('called slow, is told of otherwise', () => {
    const slow = { teatName: null, teatFlow: 'slow' } as const;
    expect(teatNotices(poured(3, slow), slow)).toEqual(['slow-nipple-pours']);
  });

  it('is not judged by feeds in which the cue could not come', () => {
    const unguided = poured(3).map((one) => ({ ...one, isUnguided: true }));
    expect(teatNotices(unguided, {})).toEqual([]);
  });

  it('stands with the other notices of the next feed', () => {
    const { notices } = guidedSetup(
      { ...EMPTY_SETUP, babyId: 'b-1' },
      [baby()],
      () => poured(3),
      NOW_MS,
      false,
    );
    expect(notices).toContain('nipple-pours');
  });
});
