/**
 * The plan of the house: which folder may know which. Walks every import of the sources. Imports point one way, so that any part can be
 * replaced, and what is pure stays so: the same steps run live, in replay and in tests.
 */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parseAst } from 'vitest/node';
import { isOneFloor, mayImport, PLAN, roomOf } from './support/house-plan.ts';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

/** Rooms whose code gives the same for the same input: no clock, no chance, no console, no timers, no environment. */
const PURE = [
  'base',
  'wire',
  'sensing',
  'pacing',
  'words',
  'feed',
  'simulation',
  'calibration',
  'planning',
  'research',
  'ward',
];
const IMPURE =
  /\b(Date\.now|new Date\(\)|Math\.random|performance\.now|console\.|setTimeout|setInterval|setImmediate|process\.)/;
/** Scripts that live in a pure room: they write generated files. */
const SCRIPTS = ['firmware-bridge/wire/generate.ts', 'src/research/teat/generate.ts'];

/** Files of more than 250 lines, each with its reason. */
const LONG_FILES: Record<string, string> = {
  'hardware/pins.ts': 'one table: firmware, wiring and guide are made of it',
  'src/simulation/sleeve-model.ts': 'one device; its pins, buzzer and line are files of their own',
};

/**
 * Casts a room may have: what a file, a database, a page or a package of others gives has no type of ours. Fewer are welcome: lower the number.
 */
const CASTS: Record<string, number> = {
  base: 3,
  wire: 3,
  links: 23,
  sensing: 3,
  pacing: 8,
  words: 3,
  feed: 6,
  calibration: 6,
  planning: 5,
  simulation: 6,
  ward: 1,
  store: 27,
  review: 9,
  paper: 6,
  research: 2,
  app: 29,
  server: 8,
  web: 8,
  cli: 0,
  hardware: 14,
};

/** Type assertions but `as const`, by the parser that bundles the tests. */
function castsIn(file: string, code: string): number {
  let count = 0;
  const walk = (node: unknown): void => {
    if (node === null || typeof node !== 'object') return;
    const { type, typeAnnotation } = node as {
      type?: unknown;
      typeAnnotation?: { typeName?: { name?: unknown } };
    };
    if (type === 'TSAsExpression' && typeAnnotation?.typeName?.name !== 'const') count += 1;
    for (const child of Object.values(node)) walk(child);
  };
  walk(parseAst(code, { lang: file.endsWith('x') ? 'tsx' : 'ts' }));
  return count;
}

interface Import {
  path: string;
  typesOnly: boolean;
}
interface Source {
  file: string;
  room: string;
  code: string;
  lines: number;
  imports: Import[];
}

const withoutComments = (text: string): string =>
  text.replaceAll(/\/\*[\s\S]*?\*\//g, '').replaceAll(/(^|\s)\/\/.*$/gm, '');

const STATIC = /^(?:import|export)\s+(type\s)?(?:([^'";]*?)\sfrom\s+)?'([^']+)'/gm;
const DYNAMIC = /\bimport\('([^']+)'\)/g;

function importsOf(code: string): Import[] {
  const found: Import[] = [];
  for (const [, type, what, path] of code.matchAll(STATIC)) {
    const names = what
      ?.match(/^\{([\s\S]*)\}$/)?.[1]
      ?.split(',')
      .map((name) => name.trim())
      .filter(Boolean);
    const allTypes = names?.every((name) => name.startsWith('type ')) ?? false;
    found.push({ path: path!, typesOnly: Boolean(type) || allTypes });
  }
  for (const [, path] of code.matchAll(DYNAMIC)) found.push({ path: path!, typesOnly: false });
  return found;
}

function sourcesIn(folder: string): Source[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
    .filter((file) => /\.tsx?$/.test(file) && !file.endsWith('.d.ts') && statSync(join(ROOT, file)).isFile())
    .map((file) => {
      const text = readFileSync(join(ROOT, file), 'utf8');
      const code = withoutComments(text);
      return { file, room: roomOf(file), code, lines: text.split('\n').length - 1, imports: importsOf(code) };
    });
}

const sources = ['src', 'firmware-bridge', 'hardware'].flatMap(sourcesIn);

const isOurs = ({ path }: Import): boolean => path.startsWith('.');
const targetOf = (file: string, path: string): string =>
  relative(ROOT, resolve(ROOT, dirname(file), path)).replaceAll('\\', '/');

/** Imports of our own files from another room; the package's own name and version belong to none. */
const steps = sources.flatMap(({ file, room, imports }) =>
  imports
    .filter(isOurs)
    .map(({ path, typesOnly }) => ({ file, room, target: targetOf(file, path), typesOnly }))
    .filter(({ target }) => target !== 'package.json')
    .map((step) => ({ ...step, to: roomOf(step.target) }))
    .filter(({ room, to }) => !isOneFloor(room, to)),
);

describe('the plan of the house', () => {
  it('knows every room, and the walk finds them all', () => {
    expect(new Set(sources.map(({ room }) => room))).toEqual(new Set(Object.keys(PLAN)));
    expect(sources.length).toBeGreaterThan(150);
    // Checks the search for imports: it finds at least as many as there are paths after the word "from".
    for (const { file, code, imports } of sources) {
      const froms = code.match(/\sfrom\s+'[^']+'/g)?.length ?? 0;
      expect([file, imports.length]).toEqual([file, expect.toSatisfy((count: number) => count >= froms)]);
    }
  });

  it('tells names from uses', () => {
    const read = (code: string) => importsOf(code).map(({ typesOnly }) => typesOnly);
    expect(read("import type { A } from './a.ts';")).toEqual([true]);
    expect(read("import { type A, type B } from './a.ts';")).toEqual([true]);
    expect(read("import { type A, b } from './a.ts';")).toEqual([false]);
    expect(read("export { type A, b } from './a.ts';\nexport type { C } from './c.ts';")).toEqual([
      false,
      true,
    ]);
    expect(read("import './a.ts';\nimport a from 'a';\nconst b = await import('./b.ts');")).toEqual([
      false,
      false,
      false,
    ]);
    expect(read("import {\n  a,\n  type B,\n} from './a.ts';")).toEqual([false]);
  });

  it('is kept by every import', () => {
    const broken = steps.filter(({ room, to, typesOnly }) => !mayImport(room, to, typesOnly));
    expect(
      broken.map(({ file, target, typesOnly }) => `${file} ${typesOnly ? 'names' : 'uses'} ${target}`),
    ).toEqual([]);
  });

  it('is kept towards packages: only what a room is there for', () => {
    const broken = sources
      .filter(({ file }) => !SCRIPTS.includes(file))
      .flatMap(({ file, room, imports }) =>
        imports
          .filter((one) => !isOurs(one) && !PLAN[room]!.packages.test(one.path))
          .map(({ path }) => `${file} uses ${path}`),
      );
    expect(broken).toEqual([]);
  });

  it('goes in no circle', () => {
    const reaches = new Map<string, Set<string>>(Object.keys(PLAN).map((room) => [room, new Set()]));
    // Left out: `words` names types of pacing, and pacing uses `words`; that circle is intended.
    for (const { room, to } of steps) if (room !== 'words') reaches.get(room)!.add(to);
    const circles: string[] = [];
    const walk = (room: string, way: string[]): void => {
      if (way.includes(room)) circles.push([...way.slice(way.indexOf(room)), room].join(' → '));
      else for (const next of reaches.get(room) ?? []) walk(next, [...way, room]);
    };
    for (const room of reaches.keys()) walk(room, []);
    expect(circles).toEqual([]);
  });

  it('has no circle of values between files', () => {
    const values = new Map(
      sources.map(({ file, imports }) => [
        file,
        imports.filter((one) => isOurs(one) && !one.typesOnly).map(({ path }) => targetOf(file, path)),
      ]),
    );
    const circles: string[] = [];
    const done = new Set<string>();
    const walk = (file: string, way: string[]): void => {
      if (way.includes(file)) circles.push([...way.slice(way.indexOf(file)), file].join(' → '));
      else if (!done.has(file)) for (const next of values.get(file) ?? []) walk(next, [...way, file]);
      done.add(file);
    };
    for (const file of values.keys()) walk(file, []);
    expect(circles).toEqual([]);
  });

  it('names real files, endings and all', () => {
    const broken = steps.filter(({ target }) => !existsSync(join(ROOT, target)));
    expect(broken.map(({ file, target }) => `${file}: ${target}`)).toEqual([]);
  });
});

describe('what is pure', () => {
  it('has no clock, no chance, no timer, no console and no surroundings', () => {
    const broken = sources
      .filter(({ room, file }) => PURE.includes(room) && !SCRIPTS.includes(file))
      .filter(({ code }) => IMPURE.test(code))
      .map(({ file, code }) => `${file}: ${code.match(IMPURE)![0]}`);
    expect(broken).toEqual([]);
  });
});

describe('the sources', () => {
  it('are split by meaning before they pass 250 lines, or say why not', () => {
    const long = sources.filter(({ lines }) => lines > 250).map(({ file }) => file);
    expect(long.toSorted()).toEqual(Object.keys(LONG_FILES).toSorted());
  });

  it('doubt the compiler, by "as", no oftener than they did', () => {
    const casts = Object.fromEntries(Object.keys(PLAN).map((room) => [room, 0]));
    for (const { room, file } of sources) {
      const count = castsIn(file, readFileSync(join(ROOT, file), 'utf8'));
      casts[room]! += count;
    }
    const more = Object.entries(casts).filter(([room, count]) => count > (CASTS[room] ?? 0));
    expect(more).toEqual([]);
  });

  it('count a cast as one, and "as const" as none', () => {
    expect(castsIn('a.ts', 'const a = b as unknown as C;')).toBe(2);
    expect(castsIn('a.ts', "const a = ['as it is'] as const; // as said")).toBe(0);
    expect(castsIn('a.tsx', 'const a = <p>as it is</p>;')).toBe(0);
  });

  it('have no default exports', () => {
    expect(sources.filter(({ code }) => /^export default\b/m.test(code)).map(({ file }) => file)).toEqual([]);
  });
});

describe('the tests', () => {
  it('judge no time of the machine, and set no limits of their own', () => {
    const broken = readdirSync(join(ROOT, 'tests'), { recursive: true, encoding: 'utf8' })
      .filter((file) => /\.tsx?$/.test(file) && !/^(bench|manual|mutation|house\.test)/.test(file))
      .flatMap((file) => {
        const code = withoutComments(readFileSync(join(ROOT, 'tests', file), 'utf8'));
        const found = code.match(/performance\.now|hrtime|^ *\},\s*\d[\d_]*,?\s*\);/m);
        return found ? [`${file}: ${found[0].trim()}`] : [];
      });
    expect(broken).toEqual([]);
  });
});
