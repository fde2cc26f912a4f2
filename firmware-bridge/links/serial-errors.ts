/** Errors of a serial port in plain sentences. The serial library gives no codes, only the system's text. */
import { messageOf, PlainError } from '../../src/base/errors.ts';

export type SerialFault = 'missing' | 'no-permission' | 'busy' | 'not-serial' | 'unplugged' | 'other';

/** Texts of the C library's strerror and of the serial library, Linux, macOS and Windows. */
const PATTERNS: [SerialFault, RegExp][] = [
  ['missing', /no such (file|device)|file not found|does not exist/i],
  // Windows reports "access denied" for a port that another program uses.
  ['busy', /cannot lock|is locked|busy|access denied/i],
  ['no-permission', /permission denied|operation not permitted/i],
  ['not-serial', /inappropriate ioctl|not a typewriter|is a directory|invalid argument/i],
];

function serialFaultOf(error: unknown): SerialFault {
  if ((error as { disconnected?: boolean } | null)?.disconnected) return 'unplugged';
  const text = messageOf(error);
  return PATTERNS.find(([, pattern]) => pattern.test(text))?.[0] ?? 'other';
}

/** @returns one sentence for a link that was open and is being opened again. */
export function lostReason(path: string, error: unknown): string {
  switch (serialFaultOf(error)) {
    case 'missing':
    case 'unplugged':
      return `The sleeve on ${path} is unplugged or switched off.`;
    case 'busy':
      return `Another program has taken the port ${path}.`;
    case 'no-permission':
      return `The port ${path} came back, but may not be opened.`;
    default:
      return `The port ${path} stopped working (${messageOf(error)}).`;
  }
}

/**
 * @param ports paths of the existing serial ports; null if they cannot be listed
 * @returns the error for a port that cannot be opened at all
 */
export function cannotOpen(path: string, error: unknown, ports: readonly string[] | null): PlainError {
  const others =
    ports === null
      ? 'The serial ports here cannot be listed; look for /dev/ttyUSB* or /dev/ttyACM*.'
      : ports.length === 0
        ? 'There is no serial port here now: plug the sleeve in.'
        : `Ports here: ${ports.join(', ')}.`;
  switch (serialFaultOf(error)) {
    case 'missing':
    case 'unplugged':
      return new PlainError('port-unknown', `There is no serial port ${path}.`, others, { cause: error });
    case 'no-permission':
      return new PlainError(
        'port-no-permission',
        `You may not open the serial port ${path}.`,
        'On Linux, join the group that owns it, then log in again: sudo usermod -aG dialout $USER',
        { cause: error },
      );
    case 'busy':
      return new PlainError(
        'port-busy',
        `Another program is using the serial port ${path}.`,
        'Close that program, or a second copy of this one, and try again.',
        { cause: error },
      );
    case 'not-serial':
      return new PlainError('port-not-serial', `${path} is not a serial port.`, others, { cause: error });
    default:
      return new PlainError(
        'port-failed',
        `The serial port ${path} cannot be opened (${messageOf(error)}).`,
        others,
        { cause: error },
      );
  }
}
