/** The sleeve's own program on the emulated chip, over long runs. */
import { benchFirmware } from './firmware.ts';
import { printTable } from './table.ts';

export async function benchFirmwareTable(): Promise<void> {
  const rows = await benchFirmware();
  printTable(
    'The sleeve’s program on an emulated chip',
    ['what', 'measured', 'goal', 'reached'],
    rows.map(({ what, measured, goal, ok }) => [what, measured, goal, ok ? 'yes' : 'NO']),
  );
}
