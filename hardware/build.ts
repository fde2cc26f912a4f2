/**
 * `npm run hardware`: writes everything that is made from the sleeve's measures, pins and parts: drawings, parts list,
 * the marked places of the pages, and (with `--stl`) one STL file a printed part into hardware/stl, which is not kept.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import modeling from '@jscad/modeling';
import { serialize } from '@jscad/stl-serializer';
import { BUDGET_TABLES } from './budgets/tables.ts';
import { checklistTable } from './checklist-text.ts';
import { endViews, partsApart, sideSection } from './drawings/sleeve.ts';
import { wiringDrawing } from './drawings/wiring.ts';
import { fillMarked } from './marked-text.ts';
import { partsCsv } from './parts.ts';
import { madeParts, type Part } from './shape/assembly.ts';
import { wiringTables } from './wiring.ts';

const here = new URL('./', import.meta.url);
const read = (path: string) => readFileSync(new URL(path, here), 'utf8');

/** Generated files that are kept: path in hardware/, and text. A test rebuilds and compares each. */
export const GENERATED: readonly { path: string; text: () => string }[] = [
  { path: 'drawings/side-section.svg', text: sideSection },
  { path: 'drawings/end-views.svg', text: endViews },
  { path: 'drawings/parts-apart.svg', text: partsApart },
  { path: 'drawings/wiring.svg', text: wiringDrawing },
  { path: 'parts.csv', text: partsCsv },
  { path: 'BUDGETS.md', text: () => fillMarked(read('BUDGETS.md'), BUDGET_TABLES) },
  {
    path: 'BUILD.md',
    text: () => fillMarked(read('BUILD.md'), { wiring: wiringTables, checklist: checklistTable }),
  },
];

/** @returns a part as binary STL, mm, in the sleeve's axes */
export function stlOf({ mesh }: Part): Uint8Array {
  const corner = (i: number): [number, number, number] => [
    mesh.corners[3 * i]!,
    mesh.corners[3 * i + 1]!,
    mesh.corners[3 * i + 2]!,
  ];
  const faces: [number, number, number][] = [];
  for (let t = 0; t < mesh.triangles.length; t += 3)
    faces.push([mesh.triangles[t]!, mesh.triangles[t + 1]!, mesh.triangles[t + 2]!]);
  const solid = modeling.geometries.geom3.create(
    faces.map((face) => modeling.geometries.poly3.create(face.map(corner))),
  );
  const chunks: ArrayBuffer[] = serialize({ binary: true }, solid);
  return Buffer.concat(chunks.map((chunk) => Buffer.from(chunk)));
}

if (process.argv[1] === new URL(import.meta.url).pathname) {
  for (const { path, text } of GENERATED) {
    writeFileSync(new URL(path, here), text());
    console.log(`wrote hardware/${path}`);
  }
  if (process.argv.includes('--stl')) {
    mkdirSync(new URL('stl/', here), { recursive: true });
    for (const part of madeParts()) {
      const path = `stl/${part.name.replaceAll(' ', '-')}.stl`;
      writeFileSync(new URL(path, here), stlOf(part));
      console.log(`wrote hardware/${path}`);
    }
  }
}
