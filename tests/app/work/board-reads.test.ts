/** What a worker tells of a sleeve is what a board reads. */
import { expect, it } from 'vitest';
import { stateOf, unguidedState } from '../../../src/app/work/sleeve-state.ts';
import { encodeSleeveMessage } from '../../../src/ward/board/sleeve-message.ts';
import { readSleeveState } from '../../../src/ward/board/sleeve-state.ts';

const OF = { sleeveNumber: 7, worker: 'a', epoch: 1 };
const read = (bytes: Uint8Array) => readSleeveState(JSON.parse(new TextDecoder().decode(bytes)));

it('a board understands what a worker says', () => {
  const view = {
    feedState: 'open',
    feedElapsedSec: 30,
    qualityReason: null,
    because: null,
    cause: null,
  } as const;
  expect(read(encodeSleeveMessage(stateOf({ ...view, showing: 'burp' }, OF, 2)))).toMatchObject({
    sleeve: 7,
    showing: 'burp',
    shownForSec: 2,
    feedState: 'open',
    feedForSec: 30,
  });
  const lost = { ...view, showing: 'no-guidance', because: 'It is away.', cause: 'lost' } as const;
  expect(read(encodeSleeveMessage(stateOf(lost, OF, 2)))?.cause).toBe('lost');
  expect(read(encodeSleeveMessage(unguidedState(OF, { code: 'sleeve-unknown', text: 'No.' })))).toMatchObject(
    {
      showing: 'no-guidance',
      feedState: 'none',
      cause: 'sleeve-unknown',
    },
  );
  const away = unguidedState(OF, { code: 'store-not-open', text: 'No.' });
  expect(read(encodeSleeveMessage(away))).toMatchObject({ feedState: 'none', cause: 'not-guided' });
});
