/** What a board of a room is told: whole or not at all, and never an amount. */
import { describe, expect, it } from 'vitest';
import { placeIn, sleeveNumberIn, sleeveTopics } from '../../../firmware-bridge/links/broker/topics.ts';
import { stateOf } from '../../../src/app/work/sleeve-state.ts';
import {
  encodeSleeveMessage,
  type SleeveMessage,
  STATE_EVERY_SEC,
  STATE_EXPIRES_SEC,
  sleeveMessageSchema,
} from '../../../src/ward/board/sleeve-message.ts';
import { readSleeveState } from '../../../src/ward/board/sleeve-state.ts';

const OF = { sleeveNumber: 7, worker: '00000000000000a1', epoch: 3 };
const VIEW = {
  showing: 'tilt-down',
  feedState: 'open',
  feedElapsedSec: 90,
  qualityReason: null,
  because: null,
  cause: null,
} as const;

const heard = (message: SleeveMessage): unknown =>
  JSON.parse(new TextDecoder().decode(encodeSleeveMessage(message)));

describe('the state of a sleeve', () => {
  it('comes back as it went', () => {
    const state = stateOf(VIEW, OF, 2.5);
    expect(sleeveMessageSchema.parse(heard(state))).toEqual(state);
    expect(state).toEqual({
      version: 1,
      ...OF,
      showing: 'tilt-down',
      shownForSec: 2.5,
      feedForSec: 90,
      doubt: null,
      trouble: null,
    } satisfies SleeveMessage);
  });

  it('says doubt and trouble only while they are shown, and a feed only while it runs', () => {
    expect(stateOf({ ...VIEW, qualityReason: 'roll' }, OF, 0).doubt).toBeNull();
    expect(stateOf({ ...VIEW, showing: 'cannot-tell', qualityReason: 'roll' }, OF, 0).doubt).toBe('roll');
    const lost = { ...VIEW, showing: 'no-guidance', because: 'It is away.', cause: 'lost' } as const;
    expect(stateOf(lost, OF, 0).trouble).toEqual({ code: 'lost', text: 'It is away.' });
    expect(stateOf({ ...VIEW, feedState: 'ended' }, OF, 0).feedForSec).toBeNull();
  });

  it('carries a doubt about the calibration to the board, in a feed and before one', () => {
    for (const feedState of ['none', 'open'] as const) {
      const told = stateOf({ ...VIEW, feedState, calibration: 'other-bottle' }, OF, 0);
      expect(readSleeveState(told)).toMatchObject({ calibration: 'other-bottle', cause: null });
    }
    expect(readSleeveState(stateOf(VIEW, OF, 0))).toMatchObject({ calibration: null });
  });

  it('is null for an invalid message', () => {
    const whole = stateOf(VIEW, OF, 1);
    const said = (value: object) => sleeveMessageSchema.safeParse(value).success;
    expect(said(whole)).toBe(true);
    expect(said({ ...whole, version: 2 })).toBe(false);
    expect(said({ ...whole, showing: 'hurry-up' })).toBe(false);
    expect(said({ ...whole, shownForSec: -1 })).toBe(false);
  });

  it('lasts for more than one that got lost', () => {
    expect(STATE_EXPIRES_SEC).toBeGreaterThanOrEqual(3 * STATE_EVERY_SEC);
  });

  it('has a topic of its own, by site, room and sleeve', () => {
    const { state } = sleeveTopics({ site: 'elm', room: 'blue' }, 7);
    expect(placeIn(state)).toEqual({ site: 'elm', room: 'blue' });
    expect(sleeveNumberIn(state)).toBe(7);
    expect(placeIn('weather/1/elm/blue/7/state')).toBeNull();
  });
});
