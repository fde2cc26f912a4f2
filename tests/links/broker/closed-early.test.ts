/** A link that is closed before it is open settles, so that whoever waits for it goes on. */
import { expect, it, vi } from 'vitest';
import { brokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import { startLink } from '../../support/relayed.ts';
import { createVirtualClock } from '../../support/virtual-clock.ts';
import { MemoryBroker } from '../../support/ward/memory-broker.ts';

const broker = vi.hoisted(() => ({ connect: (_: never): unknown => null }));
vi.mock('mqtt', () => ({ default: { connect: (options: never) => broker.connect(options) } }));

const ADDRESS = brokerAddress({ broker: 'mqtt://localhost' }, {});

it.each([
  ['before the broker answers', 0],
  ['while no relay answers', 2000],
])('a link that is closed %s says so', async (_, afterMs) => {
  Object.assign(broker, { connect: new MemoryBroker().connect });
  const clock = createVirtualClock();
  const { link, states } = startLink({ address: ADDRESS }, clock.scheduler);
  const opened = link.open().then(
    () => 'open',
    (error) => error.code,
  );
  await clock.advance(afterMs);
  await link.close();
  expect(await opened).toBe('link-closed');
  expect(states.at(-1)).toEqual({ kind: 'ended' });
});

it('a link without a relay gives up by itself with its own words', async () => {
  Object.assign(broker, { connect: new MemoryBroker().connect });
  const clock = createVirtualClock();
  const { link } = startLink({ address: ADDRESS }, clock.scheduler);
  const opened = link.open().catch((error) => error.code);
  await clock.advance(9000);
  expect(await opened).toBe('relay-none');
});
