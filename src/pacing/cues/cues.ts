/**
 * All cues, one record each: light, sound, page, graph, store and rules read everything about a cue from here. A new cue is a new record; its words
 * stand in words-en.ts and words-es.ts under its name. The order is that of the lanes in a graph.
 */
import { keysOf } from '../../base/typed.ts';
import { type CueRecord, HINT } from './cue-record.ts';
import type { Situation } from './lapse.ts';

/** Kinds of cue defined by the sleeve contract, section 6. */
export type ContractCueKind = 'tilt-down' | 'burp' | 'switch-side' | 'offer-stop';

/** What a family may turn on and off; one switch may concern several cues. `startsOn`: the default, also for files older than the switch. */
export const SWITCHES = {
  suckRhythm: { startsOn: false },
  otherSideByWeight: { startsOn: true },
  otherSideByTime: { startsOn: true },
  cover: { startsOn: true },
  littleComing: { startsOn: true },
  fastNipple: { startsOn: true },
  longFeed: { startsOn: true },
  after: { startsOn: false },
} satisfies Record<string, { startsOn: boolean }>;
export type Switch = keyof typeof SWITCHES;

/** A situation older than this is over, seconds: the cue needs its condition anew. */
export const MOMENT_SEC = 30;
/** After this much more milk the middle of the feed is over, mL: half an ounce, as between burps. */
const PAST_ML = 15;

const isIn = ({ outSec }: Situation): boolean => outSec === 0;

/** True while no sign of hunger has come since it fired. */
const stillFaded: CueRecord['holds'] = (then, now, { enough }) =>
  now.suckCount - then.suckCount < enough.resumedSucks && now.intakeMl - then.intakeMl < enough.takenMl;

export const CUES = {
  /** Milk runs too fast now; it is the only cue that does harm by waiting. Not with the nipple out, when no milk runs. */
  'tilt-down': {
    turn: 0,
    switch: null,
    calls: true,
    light: 'ease-off',
    sound: 'two-notes',
    picture: 'lower-the-bottom',
    moreIsSafety: false,
    mark: { shape: 'triangle-down', isFilled: true },
    counts: true,
    shownDownTo: 'quietest',
    heldBack: true,
    shows: null,
    holds: (_then, now) => now.tooFast && isIn(now),
    mayBeWithheld: true,
    bringsMilk: false,
  },
  /** Before the change of sides, since the baby is lifted anyway and the volume says that a burp is due. */
  burp: {
    turn: 40,
    switch: null,
    calls: true,
    light: 'pat',
    sound: null,
    picture: 'burp',
    moreIsSafety: false,
    mark: { shape: 'circle', isFilled: false },
    counts: true,
    shownDownTo: 'quieter',
    heldBack: false,
    shows: 'burp',
    holds: (then, now) => now.burps === then.burps,
    mayBeWithheld: true,
    bringsMilk: false,
  },
  'switch-side': {
    turn: 50,
    switch: null,
    calls: true,
    light: 'other-side',
    sound: 'one-note',
    picture: 'other-arm',
    moreIsSafety: false,
    mark: { shape: 'bow-tie', isFilled: false },
    counts: true,
    shownDownTo: 'quieter',
    heldBack: false,
    shows: 'switchSide',
    // With the nipple out it may be shown together with a burp for a while; later it is dropped, so that nobody is asked to go on.
    holds: (then, now) =>
      !now.bottleEmpty &&
      !now.enoughShown &&
      now.intakeMl - then.intakeMl <= PAST_ML &&
      now.outSec <= MOMENT_SEC,
    mayBeWithheld: true,
    bringsMilk: false,
  },
  /** Comes before every cue that would continue the feed. */
  'offer-stop': {
    turn: 10,
    switch: null,
    calls: true,
    light: 'look-at-baby',
    sound: 'one-note',
    picture: 'look-at-face',
    moreIsSafety: true,
    mark: { shape: 'square', isFilled: false },
    counts: false,
    shownDownTo: 'quietest',
    heldBack: true,
    shows: 'enough',
    // Nipple out and bottle empty: the caregiver has stopped already.
    holds: (then, now, params) => stillFaded(then, now, params) && (isIn(now) || !now.bottleEmpty),
    mayBeWithheld: false,
    bringsMilk: false,
  },
  /** A newborn's sucking faded early; this does not say that the baby is full. */
  'asleep-early': {
    turn: 20,
    switch: null,
    calls: true,
    light: 'look-at-baby',
    sound: null,
    picture: 'asleep',
    moreIsSafety: true,
    mark: { shape: 'square', isFilled: true },
    counts: false,
    shownDownTo: 'quietest',
    heldBack: false,
    shows: 'enough',
    holds: (then, now, params) => stillFaded(then, now, params) && now.outSec <= MOMENT_SEC,
    mayBeWithheld: false,
    bringsMilk: false,
  },
  /** Many sucks without a pause; true only at that moment. */
  'breath-pause': {
    turn: 30,
    switch: 'suckRhythm',
    calls: true,
    light: 'ease-off',
    sound: null,
    picture: 'breathe',
    moreIsSafety: false,
    mark: { shape: 'bar', isFilled: true },
    counts: false,
    shownDownTo: 'quietest',
    heldBack: true,
    shows: 'suckRhythm',
    holds: (_then, now, { suckRhythm }) =>
      isIn(now) && now.pauseSec < suckRhythm.pauseSec && !now.bottleEmpty,
    mayBeWithheld: false,
    bringsMilk: false,
  },
  /** The hole is dry while baby sucks. */
  'hole-dry': {
    ...HINT,
    turn: 70,
    switch: 'cover',
    picture: 'dry-hole',
    heldBack: true,
    shows: 'cover',
    holds: (_then, now) =>
      isIn(now) &&
      !now.tooFast &&
      now.pauseSec <= MOMENT_SEC &&
      now.coverTiltDeg !== null &&
      now.headMm !== null &&
      now.headMm < 0,
    bringsMilk: true,
  },
  /** The bottle is held steeper than the hole needs. */
  'lower-is-fine': {
    ...HINT,
    turn: 80,
    switch: 'cover',
    picture: 'lower-will-do',
    heldBack: true,
    shows: 'cover',
    holds: (_then, now) =>
      isIn(now) && !now.tooFast && now.coverTiltDeg !== null && now.tiltDeg > now.coverTiltDeg,
  },
  /** Long active sucking that brings little milk: check nipple and vent. */
  'little-coming': {
    ...HINT,
    turn: 60,
    switch: 'littleComing',
    picture: 'look-at-teat',
    shows: 'littleComing',
    holds: (then, now, { littleComing }) =>
      isIn(now) &&
      !now.bottleEmpty &&
      now.pauseSec <= MOMENT_SEC &&
      now.intakeMl - then.intakeMl <= 1 + (littleComing.underMlPerMin * (now.atSec - then.atSec)) / 60,
  },
  /** Milk poured again and again though the bottle was level: the nipple is too fast. Also shown while the nipple is out, when the caregiver has a free hand. */
  'fast-nipple': {
    ...HINT,
    turn: 65,
    switch: 'fastNipple',
    picture: 'drops',
    shownDownTo: 'quieter',
    heldBack: true,
    shows: 'fastNipple',
    // One more pour while it waits does not matter; an ounce later it no longer applies.
    holds: (then, now) =>
      !(now.tooFast && isIn(now)) && !now.bottleEmpty && now.intakeMl - then.intakeMl <= 2 * PAST_ML,
  },
  'long-feed': {
    ...HINT,
    mayBeWithheld: false,
    turn: 90,
    switch: 'longFeed',
    picture: 'tired',
    shows: 'longFeed',
    holds: (_then, now) => isIn(now),
  },
  /** After the feed, silent. */
  'hold-upright': {
    ...HINT,
    mayBeWithheld: false,
    turn: 100,
    switch: 'after',
    picture: 'upright',
    counts: false,
    shownDownTo: 'quieter',
    shows: 'after',
    holds: (_then, now) => !isIn(now),
  },
  'hunger-again': {
    ...HINT,
    mayBeWithheld: false,
    turn: 110,
    switch: 'after',
    picture: 'hand-to-mouth',
    counts: false,
    shownDownTo: 'quieter',
    heldBack: true,
    shows: 'after',
    holds: (_then, now) => !isIn(now),
  },
} as const satisfies Record<ContractCueKind, CueRecord> & Record<string, CueRecord>;

export type CueKind = keyof typeof CUES;

export const CUE_KINDS = keysOf(CUES);
