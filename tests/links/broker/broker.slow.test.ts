/** A relay, a real broker and a link to it: what goes through, what waits, what is shown meanwhile. Waits for events only. */
import { describe, expect, it } from 'vitest';
import { createTestBroker, noBroker } from '../../support/broker.ts';
import { startLink, startRelay } from '../../support/relayed.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { streamOf, toHex } from '../../support/wire.ts';

describe.skipIf(noBroker !== null)(`through a broker ${noBroker ?? ''}`, () => {
  it('the same bytes come, in order', async () => {
    const folder = temporaryFolder();
    const broker = await createTestBroker({ folder });
    await broker.start();
    const { port, said } = startRelay(broker, folder);
    const there = startLink(broker);
    await there.link.open();
    const sent = streamOf(0, 500);
    for (let at = 0; at < sent.length; at += 77) port.send(sent.subarray(at, at + 77));
    await expect.poll(() => there.length).toBe(sent.length);
    expect(toHex(there.bytes)).toBe(toHex(sent));
    console.log(said, there.states);
  });
});
