/** A sleeve on a port, opened and asked who it is, for as long as something is done with it. */
import { firstValueFrom } from 'rxjs';
import { hello } from '../../../firmware-bridge/links/hello.ts';
import type { SleeveLink } from '../../../firmware-bridge/links/link.ts';
import { createSerialLink } from '../../../firmware-bridge/links/serial-link.ts';
import type { Identity } from '../../../firmware-bridge/wire/index.ts';

/** @throws PlainError when it cannot be opened or does not answer */
export async function withSleeveOn<T>(
  port: string,
  act: (link: SleeveLink, identity: Identity) => Promise<T>,
): Promise<T> {
  const link = createSerialLink(port);
  await link.open();
  try {
    return await act(link, await firstValueFrom(hello(link)));
  } finally {
    await link.close();
  }
}
