import { describe, expect, it } from 'vitest';
import { aloneProfileFor } from '../../src/app/sleeve/alone-for.ts';
import type { Baby } from '../../src/feed/record/baby.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { SCREENING } from '../../src/pacing/screening.ts';
import { babyEntry, NO_TO_ALL } from '../support/babies.ts';

const NOW = Date.parse('2026-03-01T12:00:00Z');
const baby = (over: Partial<Baby>): Baby =>
  ({
    ...babyEntry(),
    id: 'b1',
    createdAtMs: 0,
    answeredAtMs: NOW,
    quietSinceMs: null,
    birthDate: '2025-10-01',
    plan: null,
    answers: NO_TO_ALL,
    ...over,
  }) as Baby;

describe('whom a sleeve may guide alone', () => {
  it('is a baby that may be paced, at the pace of its feeds with the host; sound only where it was asked for', () => {
    const profile = aloneProfileFor(baby({}), [], false, NOW);
    const { lasting } = SHIPPED_PROFILE.buckets;
    expect(profile).toMatchObject({ mayPace: true, maySound: false });
    expect(profile.lasting.rateMlPerMin).toBe(lasting.rateMlPerMin.value);
    expect(aloneProfileFor(baby({}), [], true, NOW).maySound).toBe(true);
  });

  it.each([
    ...SCREENING.map(({ id }) => [id, { answers: { ...NO_TO_ALL, [id]: true } }] as const),
    ['an open question', { answers: { ...NO_TO_ALL, jaundice: undefined } }],
    ['under six weeks', { birthDate: '2026-02-01' }],
  ] as const)('is none with %s', (_, over) => {
    expect(() => aloneProfileFor(baby(over as Partial<Baby>), [], false, NOW)).toThrow(
      /must not give them alone/,
    );
  });
});
