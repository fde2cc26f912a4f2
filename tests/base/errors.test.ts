import { describe, expect, it } from 'vitest';
import { PlainError, readOrRefuse } from '../../src/base/errors.ts';

describe('reading a file that somebody named', () => {
  it('gives what it holds', () => {
    expect(readOrRefuse(() => 'secret\n', 'some-code', 'The password', 'a/file')).toBe('secret\n');
  });

  it('says which file, why it cannot be read, and what to do', () => {
    const cause = new Error('ENOENT: no such file');
    const refused = () =>
      readOrRefuse(
        () => {
          throw cause;
        },
        'some-code',
        'The password',
        'a/file',
      );
    expect(refused).toThrow(PlainError);
    expect(refused).toThrow(
      expect.objectContaining({
        code: 'some-code',
        message: 'The password cannot be read from a/file (ENOENT: no such file).',
        remedy: 'Check its name and that you may read it.',
        cause,
      }),
    );
  });
});
