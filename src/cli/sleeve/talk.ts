/** Who does the steps of a calibration: a person at the terminal, or a simulated one. */
import { createInterface } from 'node:readline';
import type { Talk } from '../../app/calibration/guided-walk.ts';

export interface ClosableTalk {
  talk: Talk;
  close(): void;
}

/** The simulated person does every step; only faults are printed. */
export function silentTalk(): ClosableTalk {
  let answers = 0;
  return {
    talk: {
      say: (text) => {
        if (text.startsWith('!')) process.stderr.write(`${text}\n`);
      },
      // A refused step is tried again; a calibration that makes no progress ends.
      ask: async (question) => (question.startsWith('Enter') && answers++ < 500 ? '' : null),
    },
    close: () => {},
  };
}

export function terminalTalk(): ClosableTalk {
  const lines = createInterface({ input: process.stdin, output: process.stdout });
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
    talk: {
      say: (text) => process.stdout.write(`${text}\n`),
      ask: (question) => {
        process.stdout.write(question);
        if (typed.length > 0) return Promise.resolve(typed.shift()!);
        return ended ? Promise.resolve(null) : new Promise((resolve) => waiting.push(resolve));
      },
    },
    close: () => lines.close(),
  };
}
