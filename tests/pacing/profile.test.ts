import { describe, expect, it } from 'vitest';
import { PlainError } from '../../src/base/errors.ts';
import { checkPaceProfile, type Figure, paceParams } from '../../src/pacing/profile/profile.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';

const figuresIn = (part: object, path = ''): [path: string, Figure][] =>
  Object.entries(part).flatMap(([name, inner]): [string, Figure][] => {
    if (typeof inner !== 'object') return [];
    return 'value' in inner ? [[`${path}${name}`, inner as Figure]] : figuresIn(inner, `${path}${name}.`);
  });

/** A copy of the shipped profile with one figure's value changed, by its path. */
function withValue(path: string, value: unknown): unknown {
  const copy = structuredClone(SHIPPED_PROFILE) as unknown as Record<string, unknown>;
  let part = copy;
  for (const name of path.split('.')) part = part[name] as Record<string, unknown>;
  part.value = value;
  return copy;
}

describe('the shipped pace profile', () => {
  it('has the figures of the sleeve contract, section 5', () => {
    const params = paceParams(SHIPPED_PROFILE);
    expect(params.buckets).toEqual({
      lasting: { rateMlPerMin: 8, depthMl: 18 },
      pouring: { rateMlPerMin: 14, depthMl: 6 },
    });
    expect(params.rearmShare).toBe(0.5);
    expect(params.suckPauseSec).toBe(2);
    expect(params.burp).toMatchObject({ dueMl: 15, atMostMl: 30, takenOutSec: 5, takenTiltDeg: 60 });
    expect(params.switchSide.portionShare).toBe(0.5);
  });

  it('gives source and range of each figure', () => {
    const figures = figuresIn(SHIPPED_PROFILE);
    expect(figures.length).toBeGreaterThan(30);
    for (const [path, { value, min, max, source }] of figures) {
      expect(source, path).toMatch(/contract, section 5|no source|[12]\d{3}|leaflet|AAP|Ventura et al/);
      expect([path, min <= value && value <= max && min < max]).toEqual([path, true]);
    }
  });
});

describe('a profile from outside', () => {
  it('is taken as it is when it is right', () => {
    expect(checkPaceProfile(structuredClone(SHIPPED_PROFILE))).toEqual(SHIPPED_PROFILE);
  });

  it.each([
    ['a value out of its range', withValue('burp.dueMl', 200), /burp\.dueMl: .*range/],
    ['no number', withValue('buckets.lasting.rateMlPerMin', 'fast'), /buckets\.lasting\.rateMlPerMin\.value/],
    ['not a number', withValue('suckPauseSec', Number.NaN), /suckPauseSec\.value/],
    ['a burp at most before it is due', withValue('burp.atMostMl', 10), /atMostMl/],
    ['a window of broken bins', withValue('enough.binSec', 11), /windowSec/],
    ['a figure that is none of ours', { ...structuredClone(SHIPPED_PROFILE), hurry: 1 }, /hurry/],
    ['nothing at all', null, /profile/],
  ])('with %s is refused by name', (_, profile, named) => {
    expect(() => checkPaceProfile(profile)).toThrow(named);
    try {
      checkPaceProfile(profile);
    } catch (error) {
      expect(error).toBeInstanceOf(PlainError);
      expect((error as PlainError).remedy).not.toBe('');
    }
  });

  it('without a source is refused', () => {
    const copy = structuredClone(SHIPPED_PROFILE);
    copy.burp.dueMl.source = '';
    expect(() => checkPaceProfile(copy)).toThrow(/burp\.dueMl\.source/);
  });
});
