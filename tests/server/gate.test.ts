import { describe, expect, it } from 'vitest';
import { refusal } from '../../src/server/gate.ts';

describe('refusal', () => {
  it.each(['localhost:4620', '127.0.0.1:4620', '[::1]:4620', 'LOCALHOST:4620'])('answers to %s', (host) => {
    expect(refusal({ host }, 4620)).toBeNull();
    expect(refusal({ host, origin: `http://${host}` }, 4620)).toBeNull();
  });

  it.each([
    'ebbline.example:4620',
    '127.0.0.1:80',
    '127.0.0.1',
    '192.168.1.7:4620',
    '127.0.0.1.example:4620',
    '',
  ])('turns the host %j away', (host) => {
    expect(refusal({ host }, 4620)?.code).toBe('foreign-host');
  });

  it('turns a request without a host away', () => {
    expect(refusal({}, 4620)?.code).toBe('foreign-host');
  });

  it.each(['http://ebbline.example', 'https://127.0.0.1:4620', 'null', 'http://127.0.0.1:4621', 'file://'])(
    'turns the origin %j away',
    (origin) => {
      expect(refusal({ host: '127.0.0.1:4620', origin }, 4620)?.code).toBe('foreign-origin');
    },
  );

  const fetchedBy = (site: string, mode = 'no-cors', dest = 'image') => ({
    host: '127.0.0.1:4620',
    'sec-fetch-site': site,
    'sec-fetch-mode': mode,
    'sec-fetch-dest': dest,
  });

  it.each(['cross-site', 'same-site'])(
    'turns away what a page from elsewhere (%s) makes a browser fetch',
    (site) => {
      for (const path of ['/', '/feeds/a/graph.png', '/kept/ebbline.jsonl', '/live']) {
        expect(refusal(fetchedBy(site), 4620, null, path)?.code).toBe('foreign-origin');
      }
      // A link on another site may open the page, but not a picture or a file that takes long to make.
      expect(refusal(fetchedBy(site, 'navigate', 'document'), 4620, null, '/')).toBeNull();
      expect(refusal(fetchedBy(site, 'navigate', 'document'), 4620, null, '/join')).toBeNull();
      expect(
        refusal(fetchedBy(site, 'navigate', 'document'), 4620, null, '/packing/day-sheet.pdf')?.code,
      ).toBe('foreign-origin');
      expect(refusal(fetchedBy(site, 'navigate', 'iframe'), 4620, null, '/')?.code).toBe('foreign-origin');
    },
  );

  it.each(['same-origin', 'none'])('answers to what its own page, or a person, asks for (%s)', (site) => {
    expect(refusal(fetchedBy(site), 4620, null, '/kept/ebbline.jsonl')).toBeNull();
  });

  it('knows that port 80 is not written', () => {
    expect(refusal({ host: 'localhost' }, 80)).toBeNull();
  });
});
