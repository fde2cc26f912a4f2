import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RIGHTS } from '../../src/server/rights.ts';
import {
  admit,
  CODE_LIFE_MS,
  countStranger,
  DEVICE_LIFE_MS,
  deviceWith,
  invite,
  openInvitation,
  SHARING_START,
  STRANGER_REQUESTS_MAX,
  STRANGERS_MAX,
  TRIES_MAX,
  withdraw,
  withoutOld,
} from '../../src/server/sharing.ts';

const invited = invite(SHARING_START, 'right', 0);

describe('a code', () => {
  it('lets one device in, once', () => {
    const first = admit(invited, 'right', 'secret-1', 1000);
    expect(first.device).toMatchObject({ number: 1, sinceMs: 1000 });
    expect(deviceWith(first.state, 'secret-1', 1000)?.number).toBe(1);
    const second = admit(first.state, 'right', 'secret-2', 1001);
    expect(second.device).toBeNull();
    expect(deviceWith(second.state, 'secret-2', 1001)).toBeNull();
  });

  it('dies after some minutes', () => {
    expect(admit(invited, 'right', 'secret', CODE_LIFE_MS - 1).device).not.toBeNull();
    expect(admit(invited, 'right', 'secret', CODE_LIFE_MS).device).toBeNull();
    expect(openInvitation(invited, CODE_LIFE_MS)).toBeNull();
  });

  it('gives the right it was made for', () => {
    for (const right of RIGHTS) {
      const { device } = admit(invite(SHARING_START, 'one', 0, right), 'one', 'secret', 0);
      expect(device!.right).toBe(right);
    }
  });

  it('is replaced by the next one', () => {
    const again = invite(invited, 'newer', 10);
    expect(admit(again, 'right', 'secret', 20).device).toBeNull();
    expect(admit(again, 'newer', 'secret', 20).device).not.toBeNull();
  });

  it('is withdrawn after too many wrong tries, until a new one is made', () => {
    let state = invited;
    for (let tries = 1; tries < TRIES_MAX; tries++) state = admit(state, `wrong ${tries}`, 'secret', 5).state;
    expect(admit(state, 'right', 'secret', 6).device).not.toBeNull();
    state = admit(state, 'wrong', 'secret', 5).state;
    expect(admit(state, 'right', 'secret', 6).device).toBeNull();
    expect(admit(invite(state, 'newer', 7), 'newer', 'secret', 8).device).not.toBeNull();
  });

  it('lets nobody in when there is none', () => {
    for (const code of ['', 'null', 'undefined']) {
      expect(admit(SHARING_START, code, 'secret', 0).device).toBeNull();
    }
  });

  it('lets nobody in with any other text', () => {
    fc.assert(
      fc.property(fc.string(), (code) => {
        fc.pre(code !== 'right');
        expect(admit(invited, code, 'secret', 0).device).toBeNull();
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });
});

describe('a device', () => {
  const { state } = admit(invited, 'right', 'secret-1', 0);
  const two = admit(invite(state, 'next', 5), 'next', 'secret-2', 10).state;

  it('is put out alone, or with all others and the code', () => {
    const one = withdraw(invite(two, 'third', 20), 1);
    expect(deviceWith(one, 'secret-1', 30)).toBeNull();
    expect(deviceWith(one, 'secret-2', 30)?.number).toBe(2);
    expect(openInvitation(one, 30)).not.toBeNull();
    const none = withdraw(invite(two, 'third', 20));
    expect(none.devices).toEqual([]);
    expect(openInvitation(none, 30)).toBeNull();
  });

  it('leaves when its time is over', () => {
    expect(deviceWith(two, 'secret-1', DEVICE_LIFE_MS - 1)).not.toBeNull();
    expect(deviceWith(two, 'secret-1', DEVICE_LIFE_MS)).toBeNull();
    expect(withoutOld(two, DEVICE_LIFE_MS).devices.map(({ number }) => number)).toEqual([2]);
  });

  it('is not kept by its secret itself', () => {
    expect(JSON.stringify(two)).not.toContain('secret-1');
  });
});

it('hears only so many requests a minute of a stranger, and the next one all the same', () => {
  let state = SHARING_START;
  let heard = 0;
  for (let request = 0; request < STRANGER_REQUESTS_MAX + 50; request++) {
    const step = countStranger(state, '192.168.1.66', 1000);
    state = step.state;
    if (step.heard) heard += 1;
  }
  expect(heard).toBe(STRANGER_REQUESTS_MAX);
  expect(countStranger(state, '192.168.1.7', 1000).heard).toBe(true);
  expect(countStranger(state, '192.168.1.66', 60_000).heard).toBe(true);
});

it('remembers no more strangers than a network has', () => {
  let state = SHARING_START;
  for (let one = 0; one < STRANGERS_MAX; one++) state = countStranger(state, `fd00::${one}`, 0).state;
  expect(countStranger(state, 'fd00::ffff', 0).heard).toBe(false);
  expect(countStranger(state, 'fd00::1', 0).heard).toBe(true);
});
