/** Graph, telling and files say what the feed ran with, not what ships. */
import { describe, expect, test } from 'vitest';
import type { RanWith } from '../../src/feed/record/baby.ts';
import { BARE_GUIDANCE } from '../../src/pacing/guidance.ts';
import { scaledProfile, screened } from '../../src/pacing/index.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { HELD_BACK } from '../../src/pacing/screening.ts';
import { feedFile } from '../../src/paper/feed/feed-file.ts';
import { fastStretches } from '../../src/review/facts/feed-facts.ts';
import { paceOfFeed } from '../../src/review/facts/feed-pace.ts';
import { feedGraphSvg } from '../../src/review/graph/feed-graph.ts';
import { feedTrace } from '../../src/review/graph/feed-trace.ts';
import { tellFeed } from '../../src/review/telling/telling.ts';
import { NO_TO_ALL } from '../support/babies.ts';
import { fastFeed } from '../support/graph-feeds.ts';

const OPTIONS = { volumeUnit: 'fl-oz', timeZone: 'America/Chicago' } as const;
// By a usual feed of 200 mL: 9 % of it a minute and 27 % of it deep, the pouring bucket in the shipped proportion (scaled-profile.ts).
const SCALED: RanWith = {
  profile: scaledProfile({ usualFeedMl: 200, strictness: 'usual' }).profile,
  guidance: BARE_GUIDANCE,
};
const CLINICIANS: RanWith = (() => {
  const plan = {
    from: 'clinic',
    lasting: { rateMlPerMin: 3, depthMl: 8 },
    pouring: { rateMlPerMin: 7, depthMl: 3 },
    rhythm: null,
    enough: true,
  };
  const base = { profile: SHIPPED_PROFILE, guidance: BARE_GUIDANCE };
  return screened(base, { agesDays: [200], answers: { ...NO_TO_ALL, jaundice: true }, plan });
})();
const feed = fastFeed();
const graph = (ran?: RanWith) => feedGraphSvg({ ...feed, ...(ran && { ran }) }, OPTIONS);
const noteOf = (ran?: RanWith, language: 'en' | 'es' = 'en') =>
  tellFeed({ ...feed, ...(ran && { ran }) }, { ...OPTIONS, language }).bandNote;

describe('a feed with a scaled pace', () => {
  test('shows its own lines: 54 mL + 18 mL/min and 18 mL + 31.5 mL/min, not the shipped ones', () => {
    expect(paceOfFeed({ ran: SCALED, events: [] }).lines).toEqual([
      { startMl: 54, mlPerMin: 18 },
      { startMl: 18, mlPerMin: 31.5 },
    ]);
    for (const language of ['en', 'es'] as const) {
      const note = noteOf(SCALED, language);
      expect(note).toContain('54 mL + 18 mL/min');
      expect(note).toContain('18 mL + 31.5 mL/min');
      expect(note).not.toContain('+ 8 mL/min');
    }
    expect(graph(SCALED)).not.toBe(graph());
    expect(feedFile({ ...feed, ran: SCALED }, OPTIONS)).toContain('31.5 mL/min');
  });

  test('has its fast stretches by its own pouring rate', () => {
    const fast = (ran?: RanWith) => fastStretches(feedTrace({ ...feed, ...(ran && { ran }) }));
    expect(fast().length).toBeGreaterThan(0);
    expect(noteOf(SCALED)).toContain('above 31.5 mL/min');
    expect(fast(SCALED)).not.toEqual(fast());
  });
});

test('a feed with a clinician’s pace shows that, and whose it is', () => {
  const note = noteOf(CLINICIANS);
  expect(note).toContain('8 mL + 3 mL/min');
  expect(note).toContain('3 mL + 7 mL/min');
  expect(note).toContain('clinician’s plan');
  expect(noteOf(CLINICIANS, 'es')).toContain('profesional de salud');
});

test('a feed that kept no pace shows the shipped lines, and says nothing of whose they are', () => {
  expect(noteOf()).toContain('18 mL + 8 mL/min, or 6 mL + 14 mL/min');
  expect(noteOf()).not.toMatch(/scaled|clinician/);
  expect(noteOf({ profile: SHIPPED_PROFILE, guidance: BARE_GUIDANCE })).toBe(noteOf());
});

describe('a feed in which "Lower your hand" was off', () => {
  const OFF: RanWith = { profile: SHIPPED_PROFILE, guidance: { ...BARE_GUIDANCE, cuesOff: HELD_BACK } };

  test('has no line for it, and says so', () => {
    expect(noteOf(OFF)).not.toMatch(/Dashed|18 mL \+/);
    expect(noteOf(OFF)).toContain('was off for this baby');
    expect(noteOf(OFF, 'es')).toContain('apagado');
    expect(graph()).toContain('cue line');
    expect(graph(OFF)).not.toContain('cue line');
  });

  test('from within it, neither', () => {
    expect(paceOfFeed({ events: [{ kind: 'cues-off', atSec: 60, cues: [...HELD_BACK] }] }).isCued).toBe(
      false,
    );
  });
});

test('a pace from before there was a figure still shows its own lines', () => {
  const { burp: _later, ...older } = structuredClone(SCALED.profile);
  const ran = { ...SCALED, profile: older as typeof SCALED.profile };
  expect(paceOfFeed({ ran, events: [] })).toEqual(paceOfFeed({ ran: SCALED, events: [] }));
});
