/** `ebbline feeds again`: a kept feed run again as it ran, and whether its cues come out the same. */
import { againFrom } from '../../app/review/feed-again.ts';
import { againText } from '../../app/review/replay-text.ts';
import { say } from '../print-out.ts';
import { withStore } from '../with-store.ts';

export interface AgainOptions {
  simulated?: boolean;
  json?: boolean;
}

/** @throws PlainError as `againFrom` */
export async function againCommand(feedId: string, { json, simulated }: AgainOptions): Promise<void> {
  await withStore({ simulated }, (store) => {
    const again = againFrom(store, feedId);
    return say(json ? JSON.stringify(again) : againText(again));
  });
}
