/** In the quick lane. What is left out or cut short there, a `*.slow.test.ts` beside it does in full, by importing it. */
export const isQuick = process.env.EBBLINE_TESTS === 'quick';

/** @returns how many tries a test makes: all of them, but fewer in the quick lane; the slow lane then makes all of them too */
export const runs = ({ quick, all }: { quick: number; all: number }): number => (isQuick ? quick : all);
