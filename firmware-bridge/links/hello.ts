/** Finds out which sleeve is at the other end, and whether it uses a version of the sleeve contract that is supported. */
import { mergeMap, Observable, of, type SchedulerLike, take, throwError, timer } from 'rxjs';
import { PlainError } from '../../src/base/errors.ts';
import {
  CONTRACT_VERSION,
  createScanner,
  encodeRequest,
  type Identity,
  MESSAGES,
  scan,
} from '../wire/index.ts';
import type { SleeveLink } from './link.ts';
import { monotonic } from './monotonic.ts';

export interface HelloOptions {
  /** Give up after this long, milliseconds. A chip that was reset by the opening of its port needs about 2 s. Default 6000. */
  timeoutMs?: number;
  /** Ask again after this long without an answer, milliseconds. Default 1000. */
  askEveryMs?: number;
}

/**
 * Asks the sleeve on an open link for its identity, until it answers.
 * @returns its identity, once
 * @throws PlainError (as the observable's error) when no sleeve answers, or one with an unsupported contract version
 */
export function hello(
  link: SleeveLink,
  options: HelloOptions = {},
  scheduler: SchedulerLike = monotonic,
): Observable<Identity> {
  const { timeoutMs = 6000, askEveryMs = 1000 } = options;
  return new Observable<Identity>((subscriber) => {
    const scanner = createScanner();
    const heard = link.bytes$.subscribe({
      next: (bytes) =>
        scan(scanner, bytes, { sample: () => {}, identity: (identity) => subscriber.next(identity) }),
      complete: () => subscriber.error(noAnswer(link, scanner.counts.samples)),
    });
    const asking = timer(0, askEveryMs, scheduler).subscribe(() =>
      link.write(encodeRequest(MESSAGES.IDENTITY)),
    );
    const givingUp = timer(timeoutMs, scheduler).subscribe(() =>
      subscriber.error(noAnswer(link, scanner.counts.samples)),
    );
    subscriber.add(heard);
    subscriber.add(asking);
    subscriber.add(givingUp);
  }).pipe(
    take(1),
    mergeMap((identity) => {
      const wrong = otherVersion(link, identity);
      return wrong ? throwError(() => wrong) : of(identity);
    }),
  );
}

function noAnswer(link: SleeveLink, samples: number): PlainError {
  return samples > 0
    ? new PlainError(
        'sleeve-nameless',
        `A sleeve sends samples on ${link.label}, but it does not say which one it is.`,
        'Switch the sleeve off and on again; if that does not help, put its firmware on anew.',
      )
    : new PlainError(
        'sleeve-silent',
        `No sleeve answers on ${link.label}.`,
        'Check that the sleeve is switched on and that this is its port.',
      );
}

/** @returns the error for a sleeve with an unsupported contract version; null if it is supported */
export function otherVersion(link: SleeveLink, { contractVersion }: Identity): PlainError | null {
  if (contractVersion >= 1 && contractVersion <= CONTRACT_VERSION) return null;
  return new PlainError(
    'sleeve-version',
    `The sleeve on ${link.label} speaks version ${contractVersion} of the sleeve contract; this program speaks versions 1 to ${CONTRACT_VERSION}.`,
    `Put firmware of version ${CONTRACT_VERSION} of the contract on the sleeve, or update Ebbline.`,
  );
}
