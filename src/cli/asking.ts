/** A person at a terminal, who is told and asked. */
import { createInterface } from 'node:readline';
import type { Readable, Writable } from 'node:stream';

/** The terminal, or what stands for it in a test. */
export interface Terminal {
  input: Readable & { isTTY?: boolean };
  output: Writable;
}

export interface TerminalTalk {
  say(text: string): void;
  /** @returns what was typed; null at the end of input */
  ask(question: string): Promise<string | null>;
  close(): void;
}

/** What was typed before it was asked for is the answer to the next question. */
export function terminalTalk(
  { input, output }: Terminal = { input: process.stdin, output: process.stdout },
): TerminalTalk {
  const lines = createInterface({ input, output });
  const waiting: ((line: string | null) => void)[] = [];
  const typed: string[] = [];
  let ended = false;
  lines.on('line', (line) => {
    const next = waiting.shift();
    if (next) next(line);
    else typed.push(line);
  });
  lines.on('close', () => {
    ended = true;
    for (const next of waiting.splice(0)) next(null);
  });
  return {
    say: (text) => output.write(`${text}\n`),
    async ask(question) {
      const before = typed.shift();
      if (before !== undefined || ended) {
        output.write(question);
        return before ?? null;
      }
      const answer = new Promise<string | null>((resolve) => waiting.push(resolve));
      lines.setPrompt(question);
      lines.prompt();
      return answer;
    },
    close: () => lines.close(),
  };
}
