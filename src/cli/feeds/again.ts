/** `ebbline feeds again`: computes a stored feed again and compares its cues. */
import { againFrom } from '../../app/review/feed-again.ts';
import { againText } from '../../app/review/replay-text.ts';
import { say } from '../print-out.ts';
import { type Kept, withStore } from '../with-store.ts';

/** @throws PlainError like `againFrom` */
export const againCommand = (feedId: string, options: Kept & { json?: boolean }): Promise<void> =>
  withStore(options, (store) => {
    const again = againFrom(store, feedId);
    return say(options.json ? JSON.stringify(again) : againText(again));
  });
