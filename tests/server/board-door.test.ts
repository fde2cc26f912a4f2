/** How a board may be reached: only as its options say. */
import { describe, expect, it } from 'vitest';
import { boardDoor } from '../../src/server/ward/board-door.ts';

const CERTIFIED = { certificate: 'server.pem', key: 'server.key' };
const NAMED = { address: 'https://board.example', signIn: 'https://sign-in.example' };

describe('where a board listens', () => {
  it('is this computer alone, unless it has a certificate, a name, and people sign in', () => {
    expect(boardDoor({})).toEqual({ listenOn: '127.0.0.1', tls: null });
    expect(boardDoor(NAMED)).toEqual({ listenOn: '127.0.0.1', tls: null });
    expect(boardDoor({ listen: '127.0.0.5' })).toEqual({ listenOn: '127.0.0.5', tls: null });
    expect(boardDoor({ ...CERTIFIED, ...NAMED })).toEqual({
      listenOn: '0.0.0.0',
      tls: { files: CERTIFIED, address: 'https://board.example' },
    });
    expect(boardDoor({ ...CERTIFIED, ...NAMED, listen: '10.0.0.7' }).listenOn).toBe('10.0.0.7');
  });

  it.each([
    ['in the open over a network', { listen: '0.0.0.0' }, /in the open/],
    ['in the open, though people sign in', { ...NAMED, listen: '10.0.0.7' }, /in the open/],
    ['where nobody signs in', { ...CERTIFIED, address: NAMED.address }, /everybody could see the room/],
    ['behind a server, where nobody signs in', { address: NAMED.address }, /everybody could see the room/],
    ['under no name', { ...CERTIFIED, signIn: NAMED.signIn }, /By which name/],
    ['with a certificate alone', { ...NAMED, certificate: 'server.pem' }, /no key/],
    ['with a key alone', { ...NAMED, key: 'server.key' }, /no certificate/],
  ])('is nowhere %s', (_what, choice, said) => {
    expect(() => boardDoor(choice)).toThrow(said);
  });
});
