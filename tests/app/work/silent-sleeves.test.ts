/** Sleeves that send nothing, for example with an empty battery, do not keep a sleeve that sends waiting for a guide. */
import { expect, it, vi } from 'vitest';
import { IDENTITY } from '../../support/relayed.ts';
import { MemoryBroker } from '../../support/ward/memory-broker.ts';
import { smallWard } from '../../support/ward/small-ward.ts';

const broker = vi.hoisted(() => ({ connect: (_: never): unknown => null }));
vi.mock('mqtt', () => ({ default: { connect: (options: never) => broker.connect(options) } }));

it('a sleeve that sends is guided at once beside eight that are silent, which ask for nobody', async () => {
  const memory = new MemoryBroker();
  Object.assign(broker, { connect: memory.connect });
  const ward = smallWard(memory);
  for (let number = 1; number <= 8; number++)
    ward.otherRelay({ identity: { ...IDENTITY, sleeveNumber: number } });
  const one = ward.startWorker('one');
  await ward.until(2);
  const asked = memory.passed.filter(({ topic }) => topic.endsWith('/wanted')).map(({ topic }) => topic);
  expect(new Set(asked)).toEqual(new Set([expect.stringContaining(`/${IDENTITY.sleeveNumber}/`)]));
  expect([...one.worker.sleeves.values()].map(({ sleeveNumber }) => sleeveNumber)).toEqual([
    IDENTITY.sleeveNumber,
  ]);
  expect(ward.states().at(-1)).toMatchObject({ sleeveNumber: IDENTITY.sleeveNumber, worker: one.id });
});
