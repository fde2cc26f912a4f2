/** Several at once: what is refused is set aside, the rest is done, and those are listed at the end. */
import { PlainError } from '../../base/errors.ts';
import { say } from '../print-out.ts';

/**
 * @param act does one and says so
 * @throws PlainError the refusal where there is one item, else some-set-aside, when all others are done
 */
export function oneByOne(items: readonly string[], act: (item: string) => string): void {
  const refused: string[] = [];
  for (const item of items) {
    try {
      say(act(item));
    } catch (error) {
      if (!(error instanceof PlainError) || items.length === 1) throw error;
      refused.push(`${item}: ${error.text}`);
    }
  }
  if (refused.length === 0) return;
  throw new PlainError(
    'some-set-aside',
    `${refused.length} of ${items.length} set aside:\n  ${refused.join('\n  ')}\n`,
    refused.length === items.length ? 'Nothing was changed.' : 'The others are done.',
  );
}
