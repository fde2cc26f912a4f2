/** Called with how much of how much is done. */
export type OnProgress = (done: number, of: number) => void;

/** A line of progress on a terminal, for work that takes a while; silent if standard error is no terminal. `end` removes it. */
export function progressLine(what: string): { at: OnProgress; end(): void } {
  const { stderr } = process;
  if (!stderr.isTTY) return { at: () => {}, end: () => {} };
  let shown = -1;
  return {
    at(done, of) {
      const percent = Math.floor((100 * done) / of);
      if (percent === shown) return;
      shown = percent;
      stderr.write(`\r${what} ${percent} %`);
    },
    end: () => void stderr.write('\r\u001b[K'),
  };
}

/** Runs work, synchronous or not, with a line of progress, which is removed afterwards. */
export async function withProgress<T>(
  what: string,
  act: (onProgress: OnProgress) => T | Promise<T>,
): Promise<T> {
  const line = progressLine(what);
  try {
    return await act(line.at);
  } finally {
    line.end();
  }
}
