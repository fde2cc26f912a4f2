/** A line of progress on a terminal, for work that takes more than a moment; silent when standard error is not one. */
export function progressLine(what: string, total: number): { at: (done: number) => void; end: () => void } {
  const { stderr } = process;
  if (!stderr.isTTY) return { at: () => {}, end: () => {} };
  let shown = -1;
  return {
    at(done) {
      const percent = Math.floor((100 * done) / total);
      if (percent === shown) return;
      shown = percent;
      stderr.write(`\r${what} ${percent} %`);
    },
    end() {
      stderr.write('\r\u001b[K');
    },
  };
}
