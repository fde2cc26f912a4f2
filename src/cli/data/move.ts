/** `ebbline data move`: copies all stored data from one place to another. */

import { counted } from '../../base/counted.ts';
import { move } from '../../store/move/move.ts';
import type { DatabaseChoice } from '../../store/postgres/address.ts';
import { say } from '../print-out.ts';
import { withProgress } from '../progress.ts';

const MEGABYTE = 1e6;

interface MoveOptions extends Omit<DatabaseChoice, 'database'> {
  from: string;
  to: string;
}

/** @throws PlainError; the source is never changed */
export function moveCommand({ from, to, ...how }: MoveOptions): void {
  const done = withProgress('Moving', (onProgress) =>
    move({ ...how, database: from }, { ...how, database: to }, onProgress),
  );
  say([
    `Moved ${counted(done.feeds, 'feed')} with ${counted(done.files, 'file')} (${(done.bytes / MEGABYTE).toFixed(1)} MB) to ${done.to}.`,
    `Every row and every byte was read again there and is the same; sum of the rows: ${done.sha256.slice(0, 16)}.`,
    `In ${done.from} all is as it was; delete it when it is not needed.`,
  ]);
}
