import { describe, expect, it } from 'vitest';
import { type Allocation, allocate, armOfFeed, armsInOrder } from '../../src/research/study/allocation.ts';
import { EXAMPLE_PROTOCOL, protocolSchema } from '../../src/research/study/protocol.ts';

const given = {
  version: 1,
  code: 'pace-1',
  title: 'Cues shown or withheld',
  arms: [
    { code: 'shown', cues: 'on' },
    { code: 'withheld', cues: 'logged' },
  ],
  allocation: { blockSizes: [2, 4], strata: ['first-child', 'later-child'] },
  withholding: { adultsConsent: true, healthyTermBabies: true, ethicsApproval: 'example 12/2026' },
};
const protocol = protocolSchema.parse(given);

describe('a protocol', () => {
  it('to start from can be used as it is', () => {
    expect(protocolSchema.safeParse(EXAMPLE_PROTOCOL).error).toBeUndefined();
  });

  it('withholds cues from nobody unless somebody answers for it', () => {
    const { error } = protocolSchema.safeParse({ ...given, withholding: null });
    expect(error?.issues.map(({ path }) => path.join('.'))).toEqual(['withholding']);
  });

  it('has blocks that hold each arm equally often', () => {
    const { error } = protocolSchema.safeParse({ ...given, allocation: { blockSizes: [3] } });
    expect(error?.issues[0]?.message).toContain('multiples of the 2 arms');
  });
});

describe('allocation', () => {
  it('is balanced: never further apart than half of the largest block', () => {
    for (let seed = 1; seed <= 200; seed++) {
      let lead = 0;
      for (const arm of armsInOrder(protocol, seed, 'first-child', 60)) {
        lead += arm === 'shown' ? 1 : -1;
        expect(Math.abs(lead)).toBeLessThanOrEqual(2);
      }
    }
  });

  it('gives each order of a block of four equally often (chi-squared with 5 degrees of freedom)', () => {
    const four = protocolSchema.parse({ ...given, allocation: { blockSizes: [4], strata: ['all'] } });
    const counts = new Map<string, number>();
    for (let seed = 1; seed <= 3000; seed++) {
      const order = armsInOrder(four, seed, 'all', 4).join(' ');
      counts.set(order, (counts.get(order) ?? 0) + 1);
    }
    expect(counts.size).toBe(6);
    const expected = 3000 / 6;
    const chiSquared = [...counts.values()].reduce((sum, n) => sum + (n - expected) ** 2 / expected, 0);
    // 99.9th percentile of chi-squared with 5 degrees of freedom, from a table of the distribution (from memory): 20.5.
    expect(chiSquared).toBeLessThan(20.5);
  });

  it('does not change with those who come later, and knows each stratum by itself', () => {
    const log: Allocation[] = [];
    for (let i = 0; i < 20; i++)
      log.push(allocate(protocol, 7, log, `p${i}`, i % 2 ? 'first-child' : 'later-child', i));
    const arms = (stratum: string) => log.filter((one) => one.stratum === stratum).map(({ arm }) => arm);
    expect(arms('first-child')).toEqual(armsInOrder(protocol, 7, 'first-child', 10));
    expect(arms('later-child')).toEqual(armsInOrder(protocol, 7, 'later-child', 10));
  });

  it('refuses a participant twice and a stratum that is not in the protocol', () => {
    const log = [allocate(protocol, 7, [], 'p1', 'first-child', 0)];
    expect(() => allocate(protocol, 7, log, 'p1', 'first-child', 1)).toThrow(/already in the study/);
    expect(() => allocate(protocol, 7, log, 'p2', 'third', 1)).toThrow(/no stratum third/);
  });
});

describe('an arm for each feed', () => {
  const asks = { ...given, allocation: { blockSizes: [2], unit: 'feed', asksWhatIsLearned: true } };

  it('holds six feeds without cues, then eight among fourteen, then cues for good', () => {
    const learning = protocolSchema.parse(asks);
    const orders = [1, 2, 3].map((seed) =>
      Array.from({ length: 24 }, (_, i) => armOfFeed(learning, seed, 'F07', i + 1)),
    );
    for (const order of orders) {
      expect(new Set(order.slice(0, 6))).toEqual(new Set(['withheld']));
      expect(order.slice(6, 20).filter((arm) => arm === 'withheld')).toHaveLength(8);
      expect(new Set(order.slice(20))).toEqual(new Set(['shown']));
    }
    expect(new Set(orders.map(String)).size).toBe(3);
  });

  it('asks what is learned by feeds alone, with one arm of each kind', () => {
    const { error } = protocolSchema.safeParse({
      ...asks,
      allocation: { blockSizes: [2], asksWhatIsLearned: true },
    });
    expect(error?.issues[0]?.message).toContain('feeds as the unit');
  });
});
