/** Options of a printed sheet from the command line. */
import { PlainError } from '../../base/errors.ts';
import { PAPER_ENDINGS, type PaperEnding } from '../../paper/paper-ending.ts';

export function endingOf(out: string): PaperEnding {
  const ending = PAPER_ENDINGS.find((one) => out.endsWith(`.${one}`));
  if (ending) return ending;
  throw new PlainError(
    'sheet-ending',
    `The file ${out} must end in .pdf or .html.`,
    'Choose one of the two.',
  );
}

export function personOf(text: string): { name: string; phone: string } {
  const [, name, phone] = /^(.+?),\s*(.+)$/.exec(text) ?? [];
  if (name && phone) return { name, phone };
  throw new PlainError(
    'person-impossible',
    `"${text}" is no name with a number.`,
    'Write it as "Name, number".',
  );
}
