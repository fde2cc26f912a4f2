/** What a caregiver learned is looked at once, over feeds in which no cue was seen. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { learnedText } from '../../src/app/study/learned-text.ts';
import { guideInStudy } from '../../src/app/study/study-feeds.ts';
import { foundBefore, whatIsLearned } from '../../src/app/study/what-is-learned.ts';
import type { FeedEvent, KeptFeed } from '../../src/feed/record/feed.ts';
import { isSideFile } from '../../src/store/portable/backup-files.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';
import { keptFeed } from '../support/kept-feeds.ts';
import { START_MS, studyHere } from '../support/study.ts';

const ASKS = { allocation: { blockSizes: [2], unit: 'feed', asksWhatIsLearned: true } };
const DAY_MS = 86_400_000;

/** As many feeds as asked for; the n-th without cues lasts `minutesOf(n)`. */
function fedBy(minutesOf: (withoutCues: number) => number, count = 20, seen: number[] = []) {
  const { study, studies, clock } = studyHere(ASKS);
  study.enroll('F07', 'all');
  const kept = new Map<string, KeptFeed>();
  let without = 0;
  for (let i = 0; i < count; i++) {
    const { feed, arm } = study.bind(`feed-${i}`, 'F07');
    const isLogged = arm === 'withheld';
    const events: FeedEvent[] = isLogged ? [{ kind: 'cues-withheld', atSec: 0 }] : [];
    if (isLogged && seen.includes(without)) events.push({ kind: 'cues-shown', atSec: 60 });
    kept.set(
      feed,
      keptFeed({
        id: feed,
        startedAtMs: START_MS + i * DAY_MS,
        durationSec: 60 * (isLogged ? minutesOf(without++) : 30),
        calibration: { calibratedAt: new Date(START_MS).toISOString() },
        events,
      }),
    );
  }
  const store = { get: (id: string) => kept.get(id) ?? null, capturePath: () => null };
  return { study, studies, clock, store };
}

const wave = (n: number): number => 12 + (n % 3);

describe('what is learned', () => {
  it('is said where feeds without cues became a third longer, with its interval, and then stands', () => {
    const { study, studies, clock, store } = fedBy((n) => wave(n) * (n < 7 ? 1 : 4 / 3));
    const found = whatIsLearned(study, store, 'F07', START_MS);
    expect(found).toMatchObject({ length: { isLearned: true } });
    const { length } = found as Exclude<typeof found, { missingFeeds: number }>;
    expect(length.ratio).toBeCloseTo(4 / 3, 1);
    expect(length.low).toBeGreaterThan(1);
    expect(learnedText(found)[0]).toContain('You now pace without it');
    // The test is made once: later feeds do not change its result.
    expect(whatIsLearned(study, { ...store, get: () => null }, 'F07', START_MS + 1)).toEqual(found);
    const guide = guideInStudy(() => ({ ran: null, notices: [], severalBabies: false }), studies, clock);
    const setup = { ...EMPTY_SETUP, study: 'pace-1', participant: 'F07' };
    expect(guide(setup).notices).toEqual(['paces-alone']);
    expect(isSideFile('studies/pace-1/learned.jsonl')).toBe(true);
    study.withdraw('F07');
    expect(foundBefore(study, 'F07')).toBeNull();
    expect(readFileSync(study.files.where('learned.jsonl'), 'utf8')).not.toContain('F07');
  });

  it('is not claimed where they stayed as they were, and nobody is told so before a feed', () => {
    const { study, studies, clock, store } = fedBy(wave);
    const found = whatIsLearned(study, store, 'F07', START_MS);
    expect(found).toMatchObject({ length: { isLearned: false } });
    expect(learnedText(found)[0]).toContain('Not shown');
    const guide = guideInStudy(() => ({ ran: null, notices: [], severalBabies: false }), studies, clock);
    expect(guide({ ...EMPTY_SETUP, study: 'pace-1', participant: 'F07' }).notices).toEqual([]);
  });

  it('is not looked at early; feeds in which cues were seen do not count', () => {
    const few = fedBy(wave, 8);
    expect(whatIsLearned(few.study, few.store, 'F07', START_MS)).toMatchObject({
      missingFeeds: expect.any(Number),
    });
    const seen = fedBy((n) => wave(n) * (n < 7 ? 1 : 4 / 3), 20, [0, 3]);
    expect(whatIsLearned(seen.study, seen.store, 'F07', START_MS)).toEqual({ missingFeeds: 2 });
    expect(foundBefore(seen.study, 'F07')).toBeNull();
  });

  it('is not asked of a study that does not ask it', () => {
    const { study, store } = studyHere();
    study.enroll('F07', 'all');
    expect(() => whatIsLearned(study, store, 'F07', START_MS)).toThrow(
      'does not ask whether pacing is learned',
    );
  });
});
