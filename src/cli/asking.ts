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
  const typed = lines[Symbol.asyncIterator]();
  let ended = false;
  lines.on('close', () => {
    ended = true;
  });
  return {
    say: (text) => output.write(`${text}\n`),
    async ask(question) {
      lines.setPrompt(question);
      if (ended) output.write(question);
      else lines.prompt();
      const { value, done } = await typed.next();
      return done ? null : value;
    },
    close: () => lines.close(),
  };
}
