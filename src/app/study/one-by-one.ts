/** Does several items one by one: refused ones are set aside, the rest is done, and the refused ones are listed at the end. */
import { PlainError } from '../../base/errors.ts';

/**
 * @param act does one item @param tell  told the result of each
 * @throws PlainError the refusal if there is one item, else some-set-aside, after all others are done
 */
export function oneByOne(
  items: readonly string[],
  act: (item: string) => string,
  tell: (text: string) => void,
): void {
  const refused: string[] = [];
  for (const item of items) {
    try {
      tell(act(item));
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
