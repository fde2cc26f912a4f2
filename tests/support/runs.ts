/** True for the quick tests. What they leave out or shorten is done in full by a `*.slow.test.ts` beside them, which imports them. */
export const isQuick = process.env.EBBLINE_TESTS === 'quick';

/** @returns number of repetitions: `quick` for the quick tests; the slow ones do `all` */
export const runs = ({ quick, all }: { quick: number; all: number }): number => (isQuick ? quick : all);
