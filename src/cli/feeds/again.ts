/** `ebbline feeds again`: computes a stored feed again and compares its cues. */
import { againFrom } from '../../app/review/feed-again.ts';
import { againText } from '../../app/review/replay-text.ts';
import { say } from '../print-out.ts';
import { withStore } from '../with-store.ts';

export interface AgainOptions {
  simulated?: boolean;
  json?: boolean;
}

/** @throws PlainError like `againFrom` */
export async function againCommand(feedId: string, { json, simulated }: AgainOptions): Promise<void> {
  await withStore({ simulated }, (store) => {
    const again = againFrom(store, feedId);
    return say(json ? JSON.stringify(again) : againText(again));
  });
}
