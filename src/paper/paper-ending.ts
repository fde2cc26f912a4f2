/** File types of printable files. */
export const PAPER_ENDINGS = ['pdf', 'html'] as const;
export type PaperEnding = (typeof PAPER_ENDINGS)[number];
