/** The rooms (folders) of the project, and which may import from which. */

/** From which rooms a room may import, and of which it may import types only. What is not listed is not allowed. */
export const PLAN: Record<string, { uses: string[]; names?: string[]; packages: RegExp }> = {
  // Small modules used by all rooms.
  base: { uses: [], packages: /^zod$/ },
  wire: { uses: [], packages: /^$/ },
  links: { uses: ['wire', 'base', 'pins'], packages: /^(rxjs|serialport|avr8js|mqtt$|node:)/ },
  board: { uses: ['wire', 'links', 'base', 'pins'], packages: /^(rxjs|johnny-five|firmata-io|node:)/ },
  sensing: { uses: ['base'], packages: /^zod$/ },
  pacing: { uses: ['base'], packages: /^zod$/ },
  // Data about how a cue is shown, and its words.
  words: { uses: ['base'], names: ['pacing'], packages: /^$/ },
  feed: { uses: ['base', 'wire', 'links', 'sensing', 'pacing', 'words'], packages: /^rxjs$/ },
  calibration: { uses: ['sensing', 'base'], packages: /^(zod|ml-matrix)$/ },
  planning: { uses: ['base'], packages: /^zod$/ },
  simulation: { uses: ['wire', 'base'], names: ['links'], packages: /^$/ },
  // A house with many babies: the board of a room, labels, binding for a feed, rights; pure.
  ward: { uses: ['base', 'words', 'planning'], names: ['feed', 'sensing', 'pacing'], packages: /^zod$/ },
  store: {
    uses: ['base', 'links', 'words'],
    names: ['feed', 'sensing', 'pacing', 'ward'],
    packages: /^(libsql|pg$|pg-boss$|zod|csv-stringify|csv-parse|node:)/,
  },
  review: {
    uses: ['base', 'words', 'planning', 'pacing'],
    names: ['feed', 'sensing', 'research'],
    packages: /^/,
  },
  // Everything that is printed or handed on: HTML and PDF.
  paper: {
    uses: ['base', 'words', 'planning', 'review', 'calibration', 'ward'],
    names: ['feed', 'sensing', 'pacing'],
    packages: /^(pdfkit|svg-to-pdfkit|uqr|zod|node:)/,
  },
  // Studies: indices, allocation, contents of an export.
  research: { uses: ['base'], names: ['feed', 'sensing'], packages: /^(zod|simple-statistics)$/ },
  // Services: join the store and the core, for the page and the command line.
  app: {
    uses: [
      ...['base', 'words', 'wire', 'links', 'sensing', 'pacing', 'feed', 'calibration', 'planning'],
      ...['simulation', 'store', 'review', 'paper', 'research', 'hardware', 'ward'],
    ],
    names: ['board'],
    packages: /^(rxjs|zod|prom-client|csv-stringify|hyparquet-writer|node:)/,
  },
  server: {
    uses: ['base'],
    names: ['feed', 'sensing', 'pacing', 'planning', 'review', 'paper', 'app', 'ward'],
    packages: /^(fastify|@fastify|openid-client$|zod|rxjs|node:)/,
  },
  web: {
    uses: ['base', 'words'],
    names: ['feed', 'server', 'sensing', 'pacing', 'planning', 'review', 'app', 'ward'],
    packages: /^(preact|uqr)/,
  },
  // Commands; the page is served over HTTP, not imported.
  cli: {
    uses: [
      ...['base', 'wire', 'links', 'board', 'sensing', 'pacing', 'feed', 'calibration', 'planning'],
      ...['simulation', 'store', 'review', 'paper', 'app', 'server', 'hardware', 'pins', 'ward'],
    ],
    packages: /^(commander|rxjs|uqr|node:)/,
  },
  // The pin table, as data.
  pins: { uses: [], packages: /^$/ },
  hardware: { uses: ['wire', 'pins', 'base'], packages: /^/ },
};

/** @returns whether one room may import from another, as values or as types alone */
export const mayImport = (room: string, to: string, typesOnly: boolean): boolean =>
  PLAN[room]!.uses.includes(to) || (typesOnly && (PLAN[room]!.names ?? []).includes(to));

/** `words` is a folder of pacing, so pacing may import it freely. */
export const isOneFloor = (room: string, to: string): boolean =>
  room === to || (room === 'pacing' && to === 'words');

/** @param file from the root of the repository, such as `src/pacing/quiet.ts` */
export function roomOf(file: string): string {
  const [top, second] = file.split('/') as [string, string];
  if (top === 'hardware') return second === 'pins.ts' ? 'pins' : 'hardware';
  if (top === 'firmware-bridge') return second === 'wire' || second === 'links' ? second : 'board';
  if (/^src\/pacing\/cues\/(words(-\w+)?|cues|shown-cues|family-switches|cue-record)\.ts$/.test(file))
    return 'words';
  return second.replace(/\.ts$/, '');
}
