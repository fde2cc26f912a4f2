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

export const THIS_TERMINAL: Terminal = { input: process.stdin, output: process.stdout };

/** What was typed before it was asked for is the answer to the next question. */
export function terminalTalk({ input, output }: Terminal = THIS_TERMINAL): TerminalTalk {
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

/** Talks with a person, and lets go of the terminal afterwards. */
export async function withTerminal<T>(
  act: (talk: TerminalTalk) => Promise<T>,
  terminal: Terminal = THIS_TERMINAL,
): Promise<T> {
  const talk = terminalTalk(terminal);
  try {
    return await act(talk);
  } finally {
    talk.close();
  }
}
