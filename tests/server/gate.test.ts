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

  it('knows that port 80 is not written', () => {
    expect(refusal({ host: 'localhost' }, 80)).toBeNull();
  });
});
