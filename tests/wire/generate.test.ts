import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { GENERATED } from '../../firmware-bridge/wire/generate.ts';

for (const { path, text } of GENERATED) {
  it(`${path} is what the message table makes (else: npm run gen)`, () => {
    const kept = readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
    expect(kept).toBe(text());
    expect(kept.split('\n')[0]).toMatch(/[Gg]enerated/);
  });
}
