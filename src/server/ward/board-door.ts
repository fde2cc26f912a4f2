/** Where a board listens, and by what it is reached: by TLS of its own, through a server before it that speaks TLS, or by this computer alone. */
import { PlainError } from '../../base/errors.ts';
import type { CertificateFiles } from './own-certificate.ts';

export interface DoorChoice {
  /** https://…, as people reach it. */
  address?: string;
  /** Address of this computer to listen on. */
  listen?: string;
  certificate?: string;
  key?: string;
  /** Provider by which people sign in. */
  signIn?: string;
}

export interface BoardDoor {
  listenOn: string;
  /** TLS of its own. */
  tls: { files: CertificateFiles; address: string } | null;
}

const LOOPBACK = '127.0.0.1';
const IS_LOOPBACK = /^(localhost|127(\.\d{1,3}){3}|::1)$/;
/** All addresses of this computer. */
const ALL = '0.0.0.0';

const open = (message: string, remedy: string): PlainError => new PlainError('board-open', message, remedy);

/** Nothing is open unless it was said so. @throws PlainError board-open */
export function boardDoor({ address, listen, certificate, key, signIn }: DoorChoice): BoardDoor {
  if ((certificate === undefined) !== (key === undefined))
    throw open(
      certificate === undefined
        ? 'A key was given, but no certificate.'
        : 'A certificate was given, but no key.',
      'Give both: --certificate FILE and --key FILE.',
    );
  if (address !== undefined && signIn === undefined)
    throw open(
      'Over a network everybody could see the room.',
      'Let people sign in: --sign-in ISSUER; or leave --address out, for this computer alone.',
    );
  if (certificate === undefined || key === undefined) {
    if (listen !== undefined && !IS_LOOPBACK.test(listen))
      throw open(
        'Without a certificate the board would go over the network in the open.',
        'Give --certificate and --key; or leave --listen out, for this computer alone.',
      );
    return { listenOn: listen ?? LOOPBACK, tls: null };
  }
  if (address === undefined)
    throw open(
      'By which name people reach the board was not given.',
      'Give --address, such as https://board.example, as it stands in the certificate.',
    );
  return { listenOn: listen ?? ALL, tls: { files: { certificate, key }, address } };
}
