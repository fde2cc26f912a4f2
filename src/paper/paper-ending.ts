/** What a paper may be written as. */
export type PaperEnding = 'pdf' | 'html';
