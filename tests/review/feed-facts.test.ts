import { describe, expect, test } from 'vitest';
import {
  answerTo,
  fastStretches,
  pauses,
  secondsOf,
  uprightBreaks,
  usualTiltDeg,
} from '../../src/review/facts/feed-facts.ts';
import { paceOfFeed } from '../../src/review/facts/feed-pace.ts';
import type { FeedTrace, Series } from '../../src/review/graph/feed-trace.ts';

const series = (perSec: (sec: number) => number | null, seconds = 300): Series =>
  Array.from({ length: seconds * 2 + 1 }, (_, i) => ({ min: i / 120, amount: perSec(i / 2) }));
const trace = (changes: Partial<FeedTrace> = {}): FeedTrace => ({
  pace: paceOfFeed({ events: [] }),
  source: 'refined',
  intakeMl: series((sec) => sec / 10),
  flowMlPerMin: series(() => 6),
  flowSdMlPerMin: null,
  tiltDeg: series(() => 95),
  teatIn: [{ fromMin: 0, toMin: 5 }],
  unknown: [],
  bursts: null,
  suckAtMin: null,
  cues: [],
  pours: [],
  guidancePaused: [],
  burpedAtMin: [],
  lengthMin: 5,
  milkSdMl: null,
  flowSdMedianMlPerMin: null,
  readMl: null,
  ...changes,
});
const between = (sec: number, from: number, to: number) => sec >= from && sec < to;

describe('fast stretches', () => {
  const fast = (...spans: [number, number][]) =>
    fastStretches(
      trace({
        flowMlPerMin: series((sec) => (spans.some(([from, to]) => between(sec, from, to)) ? 14.1 : 13.9)),
      }),
    ).map((span) => Math.round(secondsOf(span)));

  test('lie above 14 mL/min, the rate of the quicker bucket (sleeve contract, section 5), for 5 s or longer', () => {
    expect(fast([30, 50], [90, 125])).toEqual([20, 35]);
    expect(fast([30, 34])).toEqual([]);
    expect(fast()).toEqual([]);
  });

  test('two that nearly touch are one; what is unknown is not fast', () => {
    expect(fast([30, 50], [54, 60])).toEqual([30]);
    expect(fastStretches(trace({ flowMlPerMin: series(() => null) }))).toEqual([]);
  });
});

describe('what followed a cue', () => {
  const cue = (kind: FeedTrace['cues'][number]['kind']) => ({
    min: 1,
    kind,
    shown: kind,
    by: ['light' as const],
    intakeMl: 10,
  });

  test('a cue that was never shown has no answer', () => {
    const lowered = trace({ tiltDeg: series((sec) => (sec < 64 ? 110 : 95)) });
    expect(answerTo(lowered, { ...cue('tilt-down'), by: null })).toBeNull();
  });

  test('a hand that went down', () => {
    const lowered = trace({
      tiltDeg: series((sec) => (sec < 64 ? 110 : 95)),
      flowMlPerMin: series(() => 20),
    });
    expect(answerTo(lowered, cue('tilt-down'))).toEqual({ what: 'lowered', afterSec: 4 });
  });

  test('a hand that only wavers is not one that went down; 8° is the least', () => {
    const by = (degrees: number) =>
      answerTo(
        trace({
          tiltDeg: series((sec) => (sec < 64 ? 110 : 110 - degrees)),
          flowMlPerMin: series(() => 20),
        }),
        cue('tilt-down'),
      );
    for (const degrees of [2.5, 5, 7.9]) expect(by(degrees)).toMatchObject({ what: 'went-on' });
    for (const degrees of [8, 12]) expect(by(degrees)).toMatchObject({ what: 'lowered' });
  });

  test('the nipple out, or a flow that eased by itself: whatever came first', () => {
    const out = trace({
      teatIn: [{ fromMin: 0, toMin: 1.1 }],
      flowMlPerMin: series((sec) => (sec < 75 ? 20 : 5)),
    });
    expect(answerTo(out, cue('tilt-down'))).toEqual({ what: 'nipple-out', afterSec: 6 });
    expect(answerTo({ ...out, teatIn: [{ fromMin: 0, toMin: 5 }] }, cue('tilt-down'))).toEqual({
      what: 'eased',
      afterSec: 15,
    });
  });

  test('nothing within half a minute, or no half minute yet', () => {
    const same = trace({ flowMlPerMin: series(() => 20) });
    expect(answerTo(same, cue('tilt-down'))).toEqual({ what: 'went-on', afterSec: 30 });
    expect(answerTo({ ...same, intakeMl: series(() => 1, 70) }, cue('tilt-down'))).toBeNull();
  });

  test('a break after a burp cue; nothing is said of hints', () => {
    const out = trace({
      teatIn: [
        { fromMin: 0, toMin: 2 },
        { fromMin: 3, toMin: 5 },
      ],
    });
    expect(answerTo(out, cue('burp'))).toEqual({ what: 'nipple-out', afterSec: 60 });
    expect(answerTo(out, cue('hole-dry'))).toBeNull();
  });
});

describe('breaks', () => {
  const teatIn = [
    { fromMin: 0, toMin: 1 },
    { fromMin: 2, toMin: 4 },
    { fromMin: 4.05, toMin: 5 },
  ];

  test('pauses lie between', () => {
    expect(pauses(trace({ teatIn }))).toEqual([
      { fromMin: 1, toMin: 2 },
      { fromMin: 4, toMin: 4.05 },
    ]);
  });

  test('as for a burp: nipple out, under 60°, 5 s or longer (sleeve contract, section 5)', () => {
    const upright = (from: number, to: number) =>
      uprightBreaks(trace({ teatIn, tiltDeg: series((sec) => (between(sec, from, to) ? 59 : 95)) }));
    expect(upright(70, 90)).toEqual([{ fromMin: 70 / 60, toMin: expect.closeTo(89.5 / 60, 6) }]);
    expect(upright(70, 74)).toEqual([]);
    // Two short pauses do not add up to a burp, nor do they in the live feed.
    const twice = series((sec) => (between(sec, 70, 73) || between(sec, 80, 83) ? 59 : 95));
    expect(uprightBreaks(trace({ teatIn, tiltDeg: twice }))).toEqual([]);
    // With the nipple in the mouth it is not a burp, whatever the tilt.
    expect(upright(130, 200)).toEqual([]);
  });

  test('the usual angle is that of drinking', () => {
    expect(usualTiltDeg(trace({ teatIn, tiltDeg: series((sec) => (between(sec, 60, 120) ? 10 : 97)) }))).toBe(
      97,
    );
    expect(usualTiltDeg(trace({ tiltDeg: [] }))).toBeNull();
  });
});
