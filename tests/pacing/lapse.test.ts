/** Cues that have waited too long: what is shown is true when it is shown. All feeds are invented or simulated. */
import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { encodeMessage } from '../../firmware-bridge/wire/codec.ts';
import { MESSAGES } from '../../firmware-bridge/wire/messages.ts';
import { createEngine, runEngine } from '../../src/feed/engine.ts';
import type { PacingInput } from '../../src/pacing/cues/cue.ts';
import { CUE_KINDS, CUES, type CueKind, MOMENT_SEC } from '../../src/pacing/cues/cues.ts';
import { isEmptyNow, type Situation, stillHolds } from '../../src/pacing/cues/lapse.ts';
import { kindOf, type ShownCue } from '../../src/pacing/cues/shown-cues.ts';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import {
  BARE_GUIDANCE,
  createPacing,
  FAMILY_GUIDANCE,
  type Guidance,
  LANGUAGES,
  SHIPPED_PROFILE,
  stepPacing,
  WORDS,
  type WordKey,
} from '../../src/pacing/index.ts';
import { paceParams } from '../../src/pacing/profile/profile.ts';
import { HELD_BACK } from '../../src/pacing/screening.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { seededDraws } from '../support/distributions.ts';
import { type Away, inputList, pace } from '../support/pacing-inputs.ts';
import { isQuick, runs } from '../support/runs.ts';
import { SITUATION } from '../support/situation.ts';
import { habitSucks, type Suck, steadySucks } from '../support/suck-trains.ts';

const PARAMS = paceParams(SHIPPED_PROFILE);

/** Words that would urge the baby to drink on. */
const ASKS = {
  en: /offer again|offer a little|carry on|go on|keep going|bring it up|raise the|more milk|finish the|drink up/i,
  es: /ofrezca|ofrecer|continúe|siga\b|súbalo|suba\b|más leche|termine (el|la|su)\b/i,
};
const ASKING: readonly string[] = Object.entries(WORDS.en.shown)
  .filter(([key]) =>
    LANGUAGES.some((language) =>
      ASKS[language].test(Object.values(WORDS[language].shown[key as WordKey]).join(' ')),
    ),
  )
  .map(([key]) => key);
const asks = (shown: WordKey): boolean => ASKING.includes(shown);

describe('a bottle that was emptied fast', () => {
  it.each(
    [
      [1, FAMILY_GUIDANCE],
      [2, BARE_GUIDANCE],
      [1, BARE_GUIDANCE],
      [2, FAMILY_GUIDANCE],
    ].slice(0, runs({ quick: 2, all: 4 })) as [number, Guidance][],
  )(
    'asks for no change of arms from half-way on an empty bottle, but for a burp and a look (seed %i)',
    (seed, guidance) => {
      const feed = createSimulatedFeed({ scenario: 'tipped-up', seed, follows: false });
      const engine = createEngine({
        calibration: parseCalibration(feed.calibration, 'simulated'),
        portionMl: feed.parameters.milkMl,
        guidance,
      });
      const fired: CueKind[] = [];
      const shownEmpty: ShownCue[] = [];
      while (!feed.done) {
        const { sample, truth } = feed.step();
        if (!sample) continue;
        runEngine(engine, encodeMessage(MESSAGES.SAMPLE, sample), ({ cues, showing, moment }) => {
          fired.push(...cues.map(({ kind }) => kind));
          const isOver = truth.milkMl <= 0 && !moment.teatInMouth;
          if (isOver && showing !== null && shownEmpty.at(-1) !== showing) shownEmpty.push(showing);
        });
      }
      expect(fired).toContain('switch-side');
      expect(shownEmpty).toEqual(['last-burp']);
    },
  );

  it('says the burp at once: after "too fast", with the bottle set down, until the button', () => {
    const sucks = steadySucks(40, 0, 90);
    const away = [{ fromSec: 92, toSec: 400, tiltDeg: 5 }];
    const inputs = inputList({ sucks, away, endSec: 200 }).map((input) => ({
      ...input,
      milkMl: 60 - input.intakeMl,
      buttonDown: input.atSec > 130 && input.atSec < 130.5,
    }));
    const { shown, cues } = pace(inputs, 60);
    expect(cues.map(({ kind }) => kind)).toContain('switch-side');
    const after = shown.filter(({ fromSec }) => fromSec >= 90);
    expect(after.map(({ kind }) => kind)).toEqual(['last-burp', null]);
    expect(after[0]!.fromSec).toBeLessThan(93);
    expect(after[1]!.fromSec).toBeCloseTo(130, 0);
  });

  it('after refilling gives cues as usual', () => {
    expect([isEmptyNow(false, 2.9), isEmptyNow(true, 7), isEmptyNow(true, 30)]).toEqual([true, true, false]);
    expect([isEmptyNow(true, null), isEmptyNow(false, undefined), isEmptyNow(false, 7)]).toEqual([
      true,
      false,
      false,
    ]);
  });
});

it('a change of arms that fired half-way does not come minutes and an ounce later', () => {
  // 30 mL by 150 s; then a pause, and 40 mL more; the nipple is out at the end.
  const sucks: Suck[] = [...steadySucks(12, 0, 151), ...steadySucks(12, 154, 350)];
  const away: Away[] = [{ fromSec: 352, toSec: 420, tiltDeg: 90 }];
  const inputs = inputList({ sucks, away, endSec: 420 });
  const { cues, shown } = pace(inputs, 60);
  const fired = cues.find(({ kind }) => kind === 'switch-side')!;
  expect(fired.atSec).toBeCloseTo(152, 0);
  expect(shown.filter(({ kind }) => kind === 'switch-side')).toEqual([]);
});

describe('each kind says when it is over', () => {
  const holds = (kind: CueKind, now: Partial<Situation>, then: Partial<Situation> = {}) =>
    stillHolds(kind, { ...SITUATION, ...then }, { ...SITUATION, ...now }, PARAMS);
  const COVERED = { coverTiltDeg: 95, headMm: 20, tiltDeg: 130 };
  const DRY = { coverTiltDeg: 95, headMm: -6, tiltDeg: 85 };

  it.each<[CueKind, Partial<Situation>, Partial<Situation>[]]>([
    ['tilt-down', { tooFast: true }, [{}, { tooFast: true, outSec: 1 }]],
    [
      'offer-stop',
      { atSec: 500, outSec: 200 },
      [{ suckCount: 10 }, { intakeMl: 5 }, { bottleEmpty: true, outSec: 2 }],
    ],
    ['asleep-early', { atSec: 500 }, [{ suckCount: 10 }, { intakeMl: 5 }, { outSec: 31 }]],
    ['breath-pause', {}, [{ pauseSec: 3 }, { outSec: 1 }, { bottleEmpty: true }]],
    ['burp', { atSec: 300, intakeMl: 60, bottleEmpty: true, outSec: 40, enoughShown: true }, [{ burps: 1 }]],
    [
      'switch-side',
      { atSec: 120, intakeMl: 15, outSec: 30 },
      [{ intakeMl: 16 }, { outSec: 31 }, { bottleEmpty: true }, { enoughShown: true }],
    ],
    [
      'lower-is-fine',
      COVERED,
      [{}, { ...COVERED, tiltDeg: 94 }, { ...COVERED, outSec: 1 }, { ...COVERED, tooFast: true }],
    ],
    [
      'hole-dry',
      DRY,
      [
        {},
        { ...DRY, headMm: 1 },
        { ...DRY, coverTiltDeg: null },
        { ...DRY, outSec: 1 },
        { ...DRY, pauseSec: 31 },
        { ...DRY, bottleEmpty: true },
        { ...DRY, enoughShown: true },
        { ...DRY, heldBack: true },
      ],
    ],
    [
      'little-coming',
      { atSec: 60, intakeMl: 2 },
      [{ atSec: 60, intakeMl: 3 }, { pauseSec: 31 }, { outSec: 1 }, { bottleEmpty: true }],
    ],
    [
      'fast-nipple',
      { atSec: 200, intakeMl: 30, outSec: 60 },
      [{ intakeMl: 31 }, { bottleEmpty: true }, { tooFast: true }],
    ],
    ['long-feed', { atSec: 60 }, [{ outSec: 1 }]],
    ['hold-upright', { outSec: 100 }, [{}]],
    ['hunger-again', { outSec: 100 }, [{}]],
  ])('%s', (kind, so, over) => {
    expect(holds(kind, so)).toBe(true);
    for (const now of over) expect(holds(kind, now), JSON.stringify(now)).toBe(false);
  });
});

describe('words that ask for the bottle again', () => {
  it('are recognized', () => {
    expect(ASKS.en.test('Then offer again. Go on only if baby wants to.')).toBe(true);
    expect(ASKS.es.test('Después ofrezca de nuevo. Siga solo si el bebé quiere.')).toBe(true);
    expect(ASKS.es.test('Si no eructa en unos minutos, continúe.')).toBe(true);
  });

  it('occur only in cues that are told apart from the others', () => {
    const asking = CUE_KINDS.filter(asks);
    expect(asking).toEqual(['hole-dry']);
    expect(CUES['hole-dry'].bringsMilk).toBe(true);
    expect(HELD_BACK).toContain('hole-dry');
    const others: WordKey[] = [
      ...['keep-low', 'nipple-out', 'last-burp', 'gentle', 'held-steeply'],
      ...['cannot-tell', 'no-guidance', 'guidance-off', 'waiting'],
    ] as WordKey[];
    for (const shown of others) expect([shown, asks(shown)]).toEqual([shown, false]);
  });
});

/** A stretch of a feed in which things stay as they are. */
const stretch = fc.record({
  sec: fc.integer({ min: 2, max: 90 }),
  flowMlPerMin: fc.oneof(fc.constant(0), fc.double({ min: 0, max: 50, noNaN: true })),
  teatInMouth: fc.constantFrom(true, true, true, false),
  tiltDeg: fc.constantFrom(20, 70, 85, 95, 130, 150),
  sucksPerSec: fc.constantFrom(0, 0.2, 1, 1),
  quality: fc.constantFrom('good', 'good', 'good', 'degraded', 'none'),
  coverTiltDeg: fc.constantFrom(null, 92, 92, 100),
  buttonSec: fc.constantFrom(0, 0, 0, 1),
  refillMl: fc.constantFrom(0, 0, 0, 40),
});
type Stretch = typeof stretch extends fc.Arbitrary<infer S> ? S : never;

/** Long enough to fade from: a baby that sucks well, with pauses. */
const well: Stretch = {
  sec: 25,
  flowMlPerMin: 7,
  teatInMouth: true,
  tiltDeg: 95,
  sucksPerSec: 1,
  quality: 'good',
  coverTiltDeg: 92,
  buttonSec: 0,
  refillMl: 0,
};
const settled = Array.from(
  { length: 30 },
  (_, i): Stretch => (i % 2 ? { ...well, sec: 5, sucksPerSec: 0, flowMlPerMin: 0 } : well),
);
const faded: Stretch = { ...well, sec: 90, sucksPerSec: 0, flowMlPerMin: 0 };
const feeds = fc.record({
  before: fc.constantFrom<readonly Stretch[]>([], [], settled, [...settled, faded, faded]),
  stretches: fc.array(stretch, { minLength: 3, maxLength: 14 }),
  milkMl: fc.integer({ min: 15, max: 150 }),
  portionMl: fc.constantFrom(null, 30, 60, 120),
  guidance: fc.constantFrom<Guidance>(
    BARE_GUIDANCE,
    FAMILY_GUIDANCE,
    { ...FAMILY_GUIDANCE, suckRhythm: true, after: true, babyAgeDays: 20 },
    { ...FAMILY_GUIDANCE, cuesOff: HELD_BACK },
  ),
});
type Feed = typeof feeds extends fc.Arbitrary<infer F> ? F : never;
const STEP_SEC = 0.25;

/** @yields the inputs, each an object of its own; the bottle gives no more than it has */
function* played({
  before,
  stretches,
  milkMl: startMl,
}: Pick<Feed, 'before' | 'stretches' | 'milkMl'>): Generator<PacingInput> {
  let [step, intakeMl, milkMl, suckCount, suckPart] = [0, 0, startMl, 0, 0];
  let lastSuckAtSec: number | null = null;
  for (const one of [...before, ...stretches]) {
    milkMl += one.refillMl;
    const endStep = step + one.sec / STEP_SEC;
    const pressedUntil = step + one.buttonSec / STEP_SEC;
    for (; step < endStep; step += 1) {
      const atSec = step * STEP_SEC;
      const ml = one.teatInMouth ? Math.min(milkMl, (one.flowMlPerMin / 60) * STEP_SEC) : 0;
      intakeMl += ml;
      milkMl -= ml;
      suckPart += one.teatInMouth ? one.sucksPerSec * STEP_SEC : 0;
      if (suckPart >= 1) {
        suckCount += 1;
        lastSuckAtSec = atSec;
        suckPart -= 1;
      }
      const { teatInMouth, tiltDeg, quality, coverTiltDeg } = one;
      const headMm = coverTiltDeg === null ? null : tiltDeg - coverTiltDeg;
      const buttonDown = step < pressedUntil;
      yield {
        atSec,
        stepSec: STEP_SEC,
        intakeMl,
        milkMl,
        teatInMouth,
        tiltDeg,
        suckCount,
        lastSuckAtSec,
        quality,
        buttonDown,
        headMm,
        coverTiltDeg,
      };
    }
  }
}

/** When a cue may be shown, stated from the inputs alone. Cues added later state it in their own tests. */
type Seen = { input: PacingInput; fired: PacingInput; outSec: number; empty: boolean; burpedSince: boolean };
const CONDITION: Record<ShownCue, (seen: Seen) => boolean> = {
  'tilt-down': ({ input }) => input.teatInMouth,
  'keep-low': ({ input }) => input.teatInMouth,
  'nipple-out': ({ input }) => input.teatInMouth,
  'fast-nipple': ({ input, fired, empty }) => !empty && input.intakeMl - fired.intakeMl <= 30 + 1e-9,
  burp: ({ burpedSince, empty }) => !burpedSince && !empty,
  'last-burp': ({ burpedSince, empty }) => !burpedSince && empty,
  'offer-stop': (seen) => unfed(seen),
  'asleep-early': (seen) => unfed(seen),
  'breath-pause': ({ input, empty }) => input.teatInMouth && pauseOf(input) < 3 && !empty,
  'switch-side': ({ input, fired, outSec, empty }) =>
    !empty && outSec <= 30 && input.intakeMl - fired.intakeMl <= 15 + 1e-9,
  'lower-is-fine': ({ input }) =>
    input.teatInMouth && input.coverTiltDeg !== null && input.tiltDeg > input.coverTiltDeg!,
  'hole-dry': ({ input, empty }) => input.teatInMouth && !empty && (input.headMm ?? 0) < 0,
  'little-coming': ({ input, empty }) => input.teatInMouth && !empty && pauseOf(input) <= 30,
  'long-feed': ({ input }) => input.teatInMouth,
  'hold-upright': ({ input }) => !input.teatInMouth,
  'hunger-again': ({ input }) => !input.teatInMouth,
};
const pauseOf = ({ atSec, lastSuckAtSec }: PacingInput): number =>
  lastSuckAtSec === null ? Number.POSITIVE_INFINITY : atSec - lastSuckAtSec;
const unfed = ({ input, fired }: Seen): boolean =>
  input.suckCount - fired.suckCount < 10 && input.intakeMl - fired.intakeMl < 5;

describe('whatever happens in a feed', () => {
  it('no cue is shown without its condition, least of all an old one, and no words ask for the bottle when it is over', () => {
    const reached = new Map<string, number>();
    fc.assert(
      fc.property(feeds, (feed) => {
        const state = createPacing(SHIPPED_PROFILE, feed);
        const firedAt = new Map<CueKind, PacingInput>();
        const held = feed.guidance.cuesOff.length > 0;
        let [outSec, empty, enoughShown, burpedSince, wasDown] = [0, false, false, false, true];
        for (const input of played(feed)) {
          outSec = input.teatInMouth ? 0 : outSec + STEP_SEC;
          if (input.quality !== 'none') empty = input.milkMl! < 3 || (empty && input.milkMl! <= 8);
          if (input.buttonDown && !wasDown) burpedSince = true;
          wasDown = input.buttonDown;
          const { cues, showing, heldSteeply } = stepPacing(state, input);
          for (const { kind } of cues) {
            firedAt.set(kind, input);
            if (kind === 'burp') burpedSince = false;
          }
          if ((enoughShown || empty || held) && asks(showing ?? 'gentle'))
            expect.unreachable(`${showing} asks for the bottle, at ${input.atSec} s`);
          if (heldSteeply && !(showing === null && input.teatInMouth && input.tiltDeg > 120))
            expect.unreachable(`held steeply without its condition, at ${input.atSec} s`);
          if (showing === null) continue;
          const fired = firedAt.get(kindOf(showing));
          const condition = CONDITION[showing];
          const isSo = fired && condition?.({ input, fired, outSec, empty, burpedSince });
          if (held && HELD_BACK.includes(kindOf(showing))) expect.unreachable(`${showing} is held back`);
          if (!isSo) expect.unreachable(`${showing} without its condition, at ${input.atSec} s`);
          if (showing === 'switch-side' && enoughShown) expect.unreachable('change arms after "enough?"');
          const old = input.atSec - fired!.atSec > MOMENT_SEC ? ', old' : '';
          reached.set(showing + old, (reached.get(showing + old) ?? 0) + 1);
          if (showing === 'offer-stop') enoughShown = true;
        }
      }),
      { numRuns: runs({ quick: 300, all: 1000 }), seed: 20260110 },
    );
    // Checks that the feeds reach these cues at all; the few feeds of the quick lane need not.
    if (isQuick) return;
    for (const kind of [
      'burp',
      'burp, old',
      'nipple-out',
      'fast-nipple',
      'last-burp',
      'switch-side',
      'offer-stop',
      'hole-dry',
      'breath-pause',
    ])
      expect(reached.get(kind), kind).toBeGreaterThan(0);
  });

  it('the record does not depend on what is shown: a change of arms is recorded at the same time as before', () => {
    // "Enough?" fires, the bottle is empty and out for a moment: it is no longer shown, the record counts it for its minute.
    const sucks = habitSucks(0, 400, { sucks: [5, 8], pauseSec: [3, 6] }, seededDraws(4));
    const recorded = (away: Away[], milkMl?: number) =>
      pace(
        inputList({ sucks, away, endSec: 700 }).map((input) =>
          milkMl === undefined ? input : { ...input, milkMl },
        ),
        null,
        { guidance: FAMILY_GUIDANCE },
      ).cues;
    const asked = recorded([]).find(({ kind }) => kind === 'offer-stop')!.atSec;
    expect(asked).toBeGreaterThan(480);
    expect(asked).toBeLessThan(540);
    const away = [{ fromSec: asked + 1, toSec: asked + 3, tiltDeg: 90 }];
    const changed = recorded(away).find(({ kind }) => kind === 'switch-side')!;
    expect(changed.atSec).toBeGreaterThan(545);
    expect(recorded(away, 0)).toEqual(recorded(away));
  });

  it('the record is the same as before cues could lapse: kept feeds give the same cues again', () => {
    const digest = createHash('sha256');
    let count = 0;
    for (const feed of fc.sample(feeds, { numRuns: 100, seed: 7 })) {
      const guidance =
        feed.guidance.cuesOff.length > 0
          ? { ...feed.guidance, cuesOff: ['tilt-down' as const], fastNipple: false, otherSideByWeight: false }
          : // That version did not have this switch yet, so it is off.
            { ...feed.guidance, fastNipple: false, otherSideByWeight: false };
      const state = createPacing(SHIPPED_PROFILE, { ...feed, guidance });
      for (const input of played(feed)) {
        const { cues } = stepPacing(state, input);
        count += cues.length;
        // That version stored reasons as sentences.
        for (const { atSec, kind, because } of cues)
          digest.update(JSON.stringify({ atSec, kind, because: becauseText(because, 'en') }));
      }
    }
    // Computed by that version of the program.
    expect({ count, digest: digest.digest('hex').slice(0, 16) }).toEqual({
      count: 534,
      digest: '3524e14dc700de72',
    });
  });
});
