import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

it('pacing imports itself, units, errors and zod: no sensing, no streams, no clock, no disk', () => {
  const folder = new URL('../../src/pacing/', import.meta.url);
  const names = readdirSync(folder);
  expect(names.length).toBeGreaterThan(10);
  for (const name of names) {
    const text = readFileSync(new URL(name, folder), 'utf8');
    for (const [, from] of text.matchAll(/from '([^']+)'/g)) {
      expect(from, name).toMatch(/^(\.\/[\w-]+\.ts|\.\.\/(units|errors)\.ts|zod)$/);
    }
    expect(text, name).not.toMatch(/Date\.|performance\.|Math\.random|setTimeout|setInterval|process\./);
  }
});
