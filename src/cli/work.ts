/** `ebbline work`: guides a house's sleeves until it is stopped. */
import { startWorking } from '../app/work/working.ts';
import { untilStopped } from './closing.ts';
import { warn } from './print-out.ts';
import type { WatchGiven } from './watch-commands.ts';

export const guideSleeves = (options: WatchGiven<'work'>): Promise<never> =>
  untilStopped(async (closing, greet) =>
    greet(await startWorking(options, closing, (text) => warn(text.trim()))),
  );
