/** Called with how much of how much is done. */
export type OnProgress = (done: number, of: number) => void;

export interface ProgressLine {
  at: OnProgress;
  /** Removes the line. */
  end(): void;
}

/** A line of progress on a terminal, for work that takes a while; silent if standard error is no terminal. */
export function progressLine(what: string): ProgressLine {
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

/** Runs work with a line of progress, which is removed afterwards. */
export function withProgress<T>(what: string, act: (onProgress: OnProgress) => T): T {
  const line = progressLine(what);
  try {
    return act(line.at);
  } finally {
    line.end();
  }
}

/** The same for asynchronous work. */
export async function withProgressOf<T>(
  what: string,
  act: (onProgress: OnProgress) => Promise<T>,
): Promise<T> {
  const line = progressLine(what);
  try {
    return await act(line.at);
  } finally {
    line.end();
  }
}
