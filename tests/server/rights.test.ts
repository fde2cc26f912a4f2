/** What a device of each right may ask for, over all routes that there are. */
import { describe, expect, it } from 'vitest';
import { permission, RIGHTS, type Right } from '../../src/server/rights.ts';

const may = (right: Right, method: string, route: string | null, body: unknown = null) =>
  permission(right, { method, route, body });

describe('a device of the home network', () => {
  it.each(RIGHTS)('that may %s neither shares nor deletes a baby', (right) => {
    for (const method of ['GET', 'POST']) {
      expect(may(right, method, '/sharing')).toBe('only-from-here');
      expect(may(right, method, '/kept/forget')).toBe('only-from-here');
    }
  });

  it.each(['watch', 'help'] as const)(
    'that may %s reads what happens, not where it lies or all at once',
    (right) => {
      for (const route of ['/live', '/feeds', '/feeds/:id/graph.svg', '/day', '/packing', null]) {
        expect(may(right, 'GET', route)).toBe('yes');
      }
      expect(may(right, 'GET', '/kept/ebbline.jsonl')).toBe('not-by-this-device');
      expect(may(right, 'GET', '/kept')).toBe('not-by-this-device');
      for (const route of ['/studies', '/studies/:code', '/studies/:code/curves.svg'])
        expect(may(right, 'GET', route)).toBe('not-by-this-device');
    },
  );

  it('that may help writes notes and says burped, and changes nothing else', () => {
    expect(may('help', 'POST', '/live/commands', { kind: 'burped' })).toBe('yes');
    expect(may('help', 'POST', '/feeds/:id/corrections', { correction: { kind: 'note', text: 'x' } })).toBe(
      'yes',
    );
    for (const kind of ['bottle-reading', 'setup', 'times']) {
      expect(may('help', 'POST', '/feeds/:id/corrections', { correction: { kind } })).toBe(
        'not-by-this-device',
      );
    }
    for (const route of ['/babies', '/milk', '/hand-feeds', '/packing/settings', '/whose']) {
      expect(may('help', 'POST', route, { kind: 'burped' })).toBe('not-by-this-device');
    }
  });

  it('that may watch changes nothing', () => {
    expect(may('watch', 'POST', '/live/commands', { kind: 'burped' })).toBe('not-by-this-device');
    for (const method of ['PUT', 'PATCH', 'DELETE'])
      expect(may('watch', method, '/babies')).toBe('not-by-this-device');
  });
});
