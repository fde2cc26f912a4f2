/** A pseudo-terminal in place of a cable, made by Python's standard library, since Node cannot make one. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';

/** Why there is no pseudo-terminal here; null if there is. */
export const noPseudoTerminal: string | null =
  process.platform === 'win32'
    ? 'no pseudo-terminals on Windows'
    : spawnSync('python3', ['-c', 'import pty']).status === 0
      ? null
      : 'python3 is not installed';

// The far end copies its standard input to the terminal, and the terminal's output to its standard output.
const FAR_END = `
import os, pty, select, sys, tty
far, near = pty.openpty()
tty.setraw(near)
link = sys.argv[1]
if os.path.lexists(link): os.remove(link)
os.symlink(os.ttyname(near), link)
os.write(1, b'ok')
while True:
    ready, _, _ = select.select([0, far], [], [])
    if 0 in ready:
        data = os.read(0, 65536)
        if not data: break
        os.write(far, data)
    if far in ready:
        os.write(1, os.read(far, 65536))
`;

export interface PseudoTerminal {
  /** Sends bytes to the program that has the near end open. */
  send(bytes: Uint8Array): void;
  onBytes(listener: (bytes: Uint8Array) => void): void;
  /** Closes the far end, like a device whose cable is pulled. */
  pull(): Promise<void>;
}

/** @param path of the near end: a link to the terminal, as udev makes them */
export async function openPseudoTerminal(path: string): Promise<PseudoTerminal> {
  const far: ChildProcess = spawn('python3', ['-c', FAR_END, path], { stdio: ['pipe', 'pipe', 'inherit'] });
  await once(far.stdout!, 'data');
  return {
    send: (bytes) => void far.stdin!.write(bytes),
    onBytes: (listener) => void far.stdout!.on('data', listener),
    async pull() {
      if (far.exitCode !== null || far.signalCode !== null) return;
      const gone = once(far, 'exit');
      far.kill('SIGKILL');
      await gone;
    },
  };
}
