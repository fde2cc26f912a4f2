/** The one table of cues, and what is read from it. */
import { describe, expect, it } from 'vitest';
import { PATIENT_CUES } from '../../src/pacing/active-cues.ts';
import { CUE_KINDS, CUES, SWITCHES } from '../../src/pacing/cues/cues.ts';
import { cueOf, kindOf, SHOWN_CUES } from '../../src/pacing/cues/shown-cues.ts';
import { completedProfile } from '../../src/pacing/profile/profile.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { HELD_BACK } from '../../src/pacing/screening.ts';

describe('the table of cues', () => {
  it('sets the order: cues that may end a feed before cues that continue it, hints last', () => {
    // Decision D-008: milk that pours cannot wait, a baby that has had enough must not be moved on.
    expect(PATIENT_CUES.slice(0, 5)).toEqual([
      'offer-stop',
      'asleep-early',
      'breath-pause',
      'burp',
      'switch-side',
    ]);
    expect(PATIENT_CUES).toHaveLength(CUE_KINDS.length - 1);
    const turns = CUE_KINDS.map((kind) => CUES[kind].turn);
    expect(new Set(turns).size).toBe(turns.length);
    const lastCall = Math.max(...CUE_KINDS.filter((kind) => CUES[kind].calls).map((kind) => CUES[kind].turn));
    for (const kind of CUE_KINDS) if (!CUES[kind].calls) expect(CUES[kind].turn).toBeGreaterThan(lastCall);
  });

  it('gives what is held back: "slower", "enough", what follows from them, and all that brings more milk', () => {
    expect(HELD_BACK).toEqual(
      expect.arrayContaining([
        'tilt-down',
        'breath-pause',
        'lower-is-fine',
        'hole-dry',
        'offer-stop',
        'hunger-again',
      ]),
    );
    expect(HELD_BACK).not.toContain('burp');
    for (const kind of CUE_KINDS) if (CUES[kind].bringsMilk) expect(HELD_BACK).toContain(kind);
  });

  it('uses light and sound only for cues that call, two notes at most', () => {
    for (const kind of CUE_KINDS) {
      const { calls, light, sound } = CUES[kind];
      expect(light === 'gentle', kind).toBe(!calls);
      if (!calls) expect(sound, kind).toBeNull();
    }
  });

  it('has a cue for every switch but the two that are a part of changing arms', () => {
    const turnedOn = new Set(CUE_KINDS.map((kind) => CUES[kind].switch));
    expect(Object.keys(SWITCHES).filter((name) => !turnedOn.has(name as never))).toEqual([
      'otherSideByWeight',
      'otherSideByTime',
    ]);
  });

  it('knows cues that are shown in other words, and states that are no cue', () => {
    expect(cueOf('keep-low')).toMatchObject({ light: CUES['tilt-down'].light, picture: 'stay-low' });
    expect(cueOf('last-burp')).toMatchObject({ turn: CUES.burp.turn, calls: true });
    expect(cueOf('nipple-out')).toMatchObject({ light: CUES['tilt-down'].light, picture: 'nipple-out' });
    expect([kindOf('nipple-out'), kindOf('last-burp'), kindOf('burp')]).toEqual([
      'tilt-down',
      'burp',
      'burp',
    ]);
    for (const shown of SHOWN_CUES) expect(cueOf(shown), shown).not.toBeNull();
    for (const none of ['gentle', 'waiting', 'toString', '']) expect(cueOf(none)).toBeNull();
  });
});

describe('a profile that a feed was kept with', () => {
  it('from before there was a section or a figure takes what ships for it, and keeps its own', () => {
    const { longFeed: _later, ...older } = structuredClone(SHIPPED_PROFILE);
    older.buckets.lasting.rateMlPerMin.value = 10.8;
    delete (older.burp as Partial<typeof older.burp>).asleepSec;
    const whole = completedProfile(older as typeof SHIPPED_PROFILE);
    expect(whole.longFeed).toEqual(SHIPPED_PROFILE.longFeed);
    expect(whole.burp.asleepSec).toEqual(SHIPPED_PROFILE.burp.asleepSec);
    expect(whole.buckets.lasting.rateMlPerMin.value).toBe(10.8);
    expect(completedProfile(SHIPPED_PROFILE)).toEqual(SHIPPED_PROFILE);
  });
});
