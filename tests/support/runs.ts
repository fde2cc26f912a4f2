/** @returns how many tries a test makes: all of them, but fewer in the quick lane; the slow lane then makes all of them too */
export const runs = ({ quick, all }: { quick: number; all: number }): number =>
  process.env.EBBLINE_TESTS === 'quick' ? quick : all;
