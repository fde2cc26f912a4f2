/**
 * The plan of the house by a published checker, dpdm, which reads the sources with the TypeScript compiler: imports of types alone are gone in
 * what it sees. It knows nothing of our own walk (house.test.ts).
 */
import { readdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type DependencyTree, parseCircular, parseDependencyTree } from 'dpdm';
import { beforeAll, describe, expect, it } from 'vitest';
import { isOneFloor, mayImport, roomOf } from './support/house-plan.ts';

const ROOT = dirname(fileURLToPath(new URL('.', import.meta.url)));
const TOPS = ['src', 'firmware-bridge', 'hardware'];

let tree: DependencyTree;
let ours: { from: string; to: string }[];

beforeAll(async () => {
  const files = TOPS.flatMap((top) =>
    readdirSync(`${ROOT}/${top}`, { recursive: true, encoding: 'utf8' }).map((name) => `${top}/${name}`),
  ).filter((file) => /\.tsx?$/.test(file));
  tree = await parseDependencyTree(files, {
    context: ROOT,
    transform: true,
    include: /.*/,
    exclude: /node_modules/,
    extensions: ['.ts', '.tsx', '.mjs', '.js', '.json'],
    skipDynamicImports: false,
  });
  ours = Object.values(tree)
    .flatMap((found) => found ?? [])
    .filter(({ id }) => id !== null && TOPS.includes(id.split('/')[0]!))
    .map(({ issuer, id }) => ({ from: issuer, to: id! }));
});

describe('values that files take from each other', () => {
  it('are all found', () => {
    const lost = Object.values(tree).flatMap((found) => (found ?? []).filter(({ id }) => id === null));
    expect(lost).toEqual([]);
    expect(ours.length).toBeGreaterThan(1000);
  });

  it('go in no circle', () => {
    expect(parseCircular(tree)).toEqual([]);
  });

  it('come from rooms that a room may use', () => {
    const broken = ours.filter(({ from, to }) => {
      const [room, other] = [roomOf(from), roomOf(to)];
      return !isOneFloor(room, other) && !mayImport(room, other, false);
    });
    expect(broken).toEqual([]);
  });
});
