import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeWhole } from '../../src/app/out-file.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

describe('a file that is handed on', () => {
  it('is for its owner alone to read', () => {
    const path = join(temporaryFolder(), 'feed.html');
    writeWhole(path, 'a feed');
    expect((statSync(path).mode & 0o777).toString(8)).toBe('600');
  });

  it('takes the place of another one only where that was asked for', () => {
    const path = join(temporaryFolder(), 'feed.html');
    writeWhole(path, 'first');
    expect(() => writeWhole(path, 'second')).toThrow(/left as it is/);
    expect(readFileSync(path, 'utf8')).toBe('first');
    writeWhole(path, 'second', { force: true });
    expect(readFileSync(path, 'utf8')).toBe('second');
  });
});
