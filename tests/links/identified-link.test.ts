/** A link never passes another sleeve's bytes on as the first one's, and delays bytes only until the sleeve has said who it is. */
import { describe, expect, it } from 'vitest';
import { createIdentifiedLink } from '../../firmware-bridge/links/identified-link.ts';
import type { LinkState } from '../../firmware-bridge/links/link.ts';
import { createSimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import { createScanner, type Identity, scan } from '../../firmware-bridge/wire/index.ts';
import { PlainError } from '../../src/base/errors.ts';
import { createFakeSleeve } from '../support/fake-sleeve.ts';
import { createVirtualClock } from '../support/virtual-clock.ts';

async function linked({ knows = [4711] }: { knows?: number[] } = {}) {
  const clock = createVirtualClock();
  const sleeve = createFakeSleeve();
  const others: number[] = [];
  const raw = createSimulatedLink(sleeve, { label: '/dev/ttyX' }, clock.scheduler);
  const onOther = ({ sleeveNumber }: Identity): void => {
    others.push(sleeveNumber);
    if (!knows.includes(sleeveNumber))
      throw new PlainError('calibration-none', 'It is not known.', 'Calibrate it.');
  };
  const link = createIdentifiedLink(raw, { identity: { ...sleeve.identity }, onOther }, clock.scheduler);
  const states: LinkState[] = [];
  /** Sequence numbers of the samples that were passed on. */
  const passed: number[] = [];
  const scanner = createScanner();
  link.bytes$.subscribe((bytes) => scan(scanner, bytes, { sample: ({ sequence }) => passed.push(sequence) }));
  link.state$.subscribe((state) => states.push(state));
  await raw.open();
  await clock.advance(1000);
  const swap = (sleeveNumber: number): void => {
    sleeve.identity = { ...sleeve.identity, sleeveNumber };
    sleeve.reset();
  };
  return { clock, sleeve, raw, link, states, passed, others, swap, last: () => states.at(-1)! };
}

describe('the same sleeve', () => {
  it('passes on all it sends; after a return it is asked, and nothing of what came meanwhile is lost', async () => {
    const { clock, sleeve, raw, passed, states } = await linked();
    raw.unplug();
    await clock.advance(2000);
    const before = passed.length;
    sleeve.answers = false;
    raw.replug();
    await clock.advance(700);
    // The sleeve has not said who it is yet: nothing is passed on.
    expect(passed.length).toBe(before);
    expect(states.at(-1)!.kind).toBe('lost');
    sleeve.answers = true;
    await clock.advance(600);
    expect(states.at(-1)!.kind).toBe('open');
    await clock.advance(500);
    const back = passed.slice(before);
    expect(back).toEqual(back.map((_, i) => back[0]! + i));
    expect(back.length).toBeGreaterThanOrEqual(Math.floor(1700 / 12.5) - 3);
  });

  it('reset without a word of the port goes on at once', async () => {
    const { clock, sleeve, passed, states, others } = await linked();
    const before = passed.length;
    sleeve.reset();
    await clock.advance(1000);
    expect(passed.length - before).toBeGreaterThan(75);
    expect(states.map(({ kind }) => kind)).toEqual(['opening', 'open']);
    expect(others).toEqual([]);
  });

  it('that does not say who it is gives no guidance, and a sentence; once it does, all is well', async () => {
    const { clock, sleeve, raw, last } = await linked();
    raw.unplug();
    sleeve.answers = false;
    raw.replug();
    await clock.advance(5000);
    expect(last()).toMatchObject({
      kind: 'lost',
      trouble: 'sleeve-nameless',
      reason: expect.stringMatching(/which one/),
    });
    sleeve.answers = true;
    await clock.advance(1000);
    expect(last().kind).toBe('open');
  });
});

describe('another sleeve on the same port', () => {
  it.each(['unplugged', 'reset only'])(
    '(%s) that is known goes on as its own, told before its first sample',
    async (how) => {
      const { clock, raw, passed, others, last, swap } = await linked({ knows: [12] });
      if (how === 'unplugged') raw.unplug();
      const before = passed.length;
      swap(12);
      if (how === 'unplugged') raw.replug();
      await clock.advance(1500);
      expect(others).toEqual([12]);
      expect(last().kind).toBe('open');
      // The other sleeve's sequence, from its start.
      expect(
        passed
          .slice(before)
          .slice(-3)
          .every((sequence) => sequence < 200),
      ).toBe(true);
    },
  );

  it('that is not known gives no byte and a sentence; the first one back gives both again', async () => {
    const { clock, raw, passed, last, swap, link } = await linked();
    raw.unplug();
    swap(12);
    raw.replug();
    await clock.advance(3000);
    const before = passed.length;
    expect(last()).toMatchObject({
      kind: 'lost',
      trouble: 'other-sleeve',
      reason: 'It is not known. Calibrate it.',
    });
    raw.unplug();
    swap(4711);
    raw.replug();
    await clock.advance(2000);
    expect(last().kind).toBe('open');
    expect(passed.length).toBeGreaterThan(before + 100);
    await link.close();
  });

  it('of a contract version that nobody knows is refused in a sentence', async () => {
    const { clock, raw, sleeve, last, others } = await linked({ knows: [12] });
    raw.unplug();
    sleeve.identity = { ...sleeve.identity, contractVersion: 9, sleeveNumber: 12 };
    raw.replug();
    await clock.advance(1000);
    expect(last()).toMatchObject({
      kind: 'lost',
      reason: expect.stringMatching(/version 9 of the sleeve contract/),
    });
    expect(others).toEqual([]);
  });
});
