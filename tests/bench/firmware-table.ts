/** The sleeve's own program on the emulated chip, over long runs, if its campaigns are here. */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { printTable } from './table.ts';

interface Row {
  what: string;
  measured: string;
  goal: string;
  ok: boolean;
}

export async function benchFirmwareTable(): Promise<void> {
  const file = fileURLToPath(new URL('./firmware.ts', import.meta.url));
  if (!existsSync(file)) return console.log('\nNo campaigns of the firmware here.');
  const { benchFirmware } = (await import(file)) as { benchFirmware: () => Promise<Row[]> };
  printTable(
    'The sleeve’s program on an emulated chip',
    ['what', 'measured', 'goal', 'reached'],
    (await benchFirmware()).map(({ what, measured, goal, ok }) => [what, measured, goal, ok ? 'yes' : 'NO']),
  );
}
