/** `ebbline feeds again`: a kept feed run again as it ran, and whether its cues come out the same. */
import { type Again, againFrom } from '../../app/review/feed-again.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { say } from '../print-out.ts';
import { inWords } from '../replay.ts';
import { withStore } from '../with-store.ts';

export interface AgainOptions {
  simulated?: boolean;
  json?: boolean;
}

/** @throws PlainError as `againFrom` */
export async function againCommand(feedId: string, { json, simulated }: AgainOptions): Promise<void> {
  await withStore({ simulated }, (store) => {
    const again = againFrom(store, feedId);
    return say(json ? JSON.stringify(again) : told(again));
  });
}

function told({ result, sameCues, keptCues, profile, softwareVersion }: Again): string {
  const ran = `Recorded by version ${softwareVersion}, pace profile "${profile}".`;
  const same = sameCues
    ? `The same ${keptCues.length} cues as then.`
    : `Not the same cues: ${keptCues.length} then, ${result.cues.length} now, by version ${SOFTWARE_VERSION}.`;
  return [ran, same, inWords(result)].join('\n');
}
