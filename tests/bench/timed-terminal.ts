/** A pseudo-terminal whose far end keeps time, so that only the host's own delay is measured (far-end.py). */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';

export interface TimedReport {
  /** Seconds just before each frame was written. */
  wrote: number[];
  heard: { atSec: number; bytes: Uint8Array }[];
}

export interface TimedTerminal {
  /** Bytes to the host, at once. */
  send(bytes: Uint8Array): void;
  /** Frames of 31 bytes to the host, one each 12.5 ms; resolves after the last, once enough was heard or a minute is over. */
  pace(frames: Uint8Array, isEnough: (bytes: Uint8Array) => boolean): Promise<TimedReport>;
  /** Bytes from the host while nothing is paced. */
  onBytes: (bytes: Uint8Array) => void;
  close(): Promise<void>;
}

const HEAD = 5;

/** @param path where the near end shall be found */
export async function openTimedTerminal(path: string): Promise<TimedTerminal> {
  const script = fileURLToPath(new URL('./far-end.py', import.meta.url));
  const far = spawn('python3', [script, path], { stdio: ['pipe', 'pipe', 'inherit'] });
  let pending = Buffer.alloc(0);
  let report: ((report: TimedReport) => void) | null = null;
  let isEnoughNow: (bytes: Uint8Array) => boolean = () => false;
  let opened: () => void;
  const open = new Promise<void>((resolve) => {
    opened = resolve;
  });
  const terminal: TimedTerminal = {
    send: (bytes) => command('S', bytes),
    pace(frames, isEnough) {
      return new Promise((resolve) => {
        report = resolve;
        isEnoughNow = isEnough;
        command('P', frames);
      });
    },
    onBytes: () => {},
    async close() {
      if (far.exitCode !== null || far.signalCode !== null) return;
      const gone = once(far, 'exit');
      far.kill('SIGKILL');
      await gone;
    },
  };
  const command = (kind: string, bytes: Uint8Array): void => {
    const head = Buffer.alloc(HEAD);
    head.write(kind, 'latin1');
    head.writeUInt32LE(bytes.length, 1);
    far.stdin.write(Buffer.concat([head, bytes]));
  };
  const tellEnough = (): void => {
    isEnoughNow = () => false;
    command('E', new Uint8Array(0));
  };
  far.stdout.on('data', (chunk: Buffer) => {
    pending = Buffer.concat([pending, chunk]);
    while (pending.length >= HEAD && pending.length >= HEAD + pending.readUInt32LE(1)) {
      const length = pending.readUInt32LE(1);
      const data = pending.subarray(HEAD, HEAD + length);
      const kind = String.fromCharCode(pending[0]!);
      if (kind === 'R') report?.(readReport(data.toString()));
      else if (kind === 'H') {
        if (isEnoughNow(data)) tellEnough();
      } else if (length > 0) terminal.onBytes(data);
      else opened();
      pending = pending.subarray(HEAD + length);
    }
  });
  await open;
  return terminal;
}

function readReport(text: string): TimedReport {
  const { wrote, heard } = JSON.parse(text) as { wrote: number[]; heard: [number, string][] };
  return { wrote, heard: heard.map(([atSec, hex]) => ({ atSec, bytes: Buffer.from(hex, 'hex') })) };
}
