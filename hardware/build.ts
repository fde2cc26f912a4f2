/**
 * `npm run hardware`: writes everything that is made from the sleeve's measures, pins and parts: drawings, parts list,
 * the marked places of the pages, and (with `--stl`) one STL file a printed part into hardware/stl, which is not kept.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { checklistTable } from './bring-up/checklist-text.ts';
import { BUDGET_TABLES } from './budgets/tables.ts';
import { moduleTable } from './circuit/modules.ts';
import { costTable } from './cost.ts';
import { schematicDrawing } from './drawings/schematic.ts';
import { sideSection, smallCupSection } from './drawings/sleeve.ts';
import { endViews, partsApart } from './drawings/views.ts';
import { wiringDrawing } from './drawings/wiring.ts';
import { fillMarked } from './marked-text.ts';
import { partsCsv } from './parts.ts';
import { printingTable } from './printing.ts';
import { madeParts } from './shape/assembly.ts';
import { stlOf } from './shape/stl.ts';
import { wiringTables } from './wiring.ts';

const here = new URL('./', import.meta.url);
const read = (path: string) => readFileSync(new URL(path, here), 'utf8');

/** Generated files that are kept: path in hardware/, and text. A test rebuilds and compares each. */
export const GENERATED: readonly { path: string; text: () => string }[] = [
  { path: 'drawings/side-section.svg', text: sideSection },
  { path: 'drawings/small-cup.svg', text: smallCupSection },
  { path: 'drawings/end-views.svg', text: endViews },
  { path: 'drawings/parts-apart.svg', text: partsApart },
  { path: 'drawings/wiring.svg', text: wiringDrawing },
  { path: 'drawings/schematic.svg', text: () => schematicDrawing() },
  { path: 'parts.csv', text: partsCsv },
  { path: 'BUDGETS.md', text: () => fillMarked(read('BUDGETS.md'), BUDGET_TABLES) },
  {
    path: 'BUILD.md',
    text: () =>
      fillMarked(read('BUILD.md'), {
        wiring: wiringTables,
        modules: moduleTable,
        printing: printingTable,
        cost: costTable,
        checklist: checklistTable,
      }),
  },
];

if (process.argv[1] === new URL(import.meta.url).pathname) {
  for (const { path, text } of GENERATED) {
    writeFileSync(new URL(path, here), text());
    console.log(`wrote hardware/${path}`);
  }
  if (process.argv.includes('--stl')) {
    mkdirSync(new URL('stl/', here), { recursive: true });
    for (const part of madeParts()) {
      const path = `stl/${part.name.replaceAll(' ', '-')}.stl`;
      writeFileSync(new URL(path, here), stlOf(part.mesh));
      console.log(`wrote hardware/${path}`);
    }
  }
}
