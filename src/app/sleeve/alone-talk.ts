/** Sets up a sleeve to guide alone: sends the data, reads them back, turns it on or off, fetches stored feeds. */
import { filter, firstValueFrom, mergeMap, Observable, type SchedulerLike, take, timeout } from 'rxjs';
import type { SleeveLink } from '../../../firmware-bridge/links/link.ts';
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import {
  createFirmataFramer,
  decodeMessage,
  encodeMessage,
  encodeRequest,
  frameFirmata,
  MESSAGES,
} from '../../../firmware-bridge/wire/index.ts';
import { PlainError } from '../../base/errors.ts';
import { FEEDS_BYTES } from '../../calibration/alone/kept-feeds.ts';
import { ALONE_LAYOUT, PART_BYTES, PLACE_BYTES } from './alone-block.ts';

export type AloneState = NonNullable<ReturnType<typeof decodeMessage<typeof MESSAGES.ALONE_STATE>>>;

const ANSWER_MS = 1500;
const TRIES = 4;
const ORDER = { off: 0, on: 1, own: 2, fetched: 3 } as const;
const NOT_OWNER = 1;

/** The sleeve's refusals, in the order of ALONE_STATE's `refused`. */
const REFUSALS: Record<number, string> = {
  2: 'it was made for another version of its program',
  3: 'it was made for another sleeve',
  4: 'it came damaged',
  5: 'its parts came out of order',
  6: 'this baby is not to be paced',
};

export interface AloneTalk {
  state(): Promise<AloneState>;
  /** Sends a block, reads it back, turns the sleeve on. @throws PlainError alone-refused, alone-owner, alone-changed */
  turnOn(block: Uint8Array): Promise<void>;
  turnOff(): Promise<void>;
  /** All feeds stored in the sleeve, as bytes. */
  fetchFeeds(): Promise<Uint8Array>;
  forgetFeeds(): Promise<void>;
}

/**
 * @param link an open one
 * @param owner this computer's key
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a conversation: each step asks by the same link and owner
export function aloneTalk(link: SleeveLink, owner: number, scheduler: SchedulerLike = monotonic): AloneTalk {
  /** Repeats the question until it is answered, since a radio link loses bytes. */
  async function ask<T>(question: Uint8Array, understand: (message: Uint8Array) => T | null): Promise<T> {
    const framer = createFirmataFramer('sleeve-to-host');
    const answers = new Observable<Uint8Array>((subscriber) => {
      const heard = link.bytes$.subscribe((bytes) =>
        frameFirmata(framer, bytes, (message) => subscriber.next(message.slice())),
      );
      link.write(question);
      return heard;
    }).pipe(
      mergeMap((message) => {
        const answer = understand(message);
        return answer === null ? [] : [answer];
      }),
      filter((answer) => answer !== null),
      take(1),
      timeout({ first: ANSWER_MS, scheduler }),
    );
    for (let tried = 1; ; tried++) {
      try {
        return await firstValueFrom(answers);
      } catch {
        if (tried === TRIES) throw silent(link);
      }
    }
  }

  const stateAfter = (question: Uint8Array) =>
    ask(question, (message) => decodeMessage(MESSAGES.ALONE_STATE, message));

  async function told(question: Uint8Array): Promise<AloneState> {
    const state = await stateAfter(question);
    if (state.refused === NOT_OWNER) throw notOwner();
    return state;
  }

  const order = (kind: number) => told(encodeMessage(MESSAGES.ALONE_ORDER, { owner, order: kind }));

  async function fetch(what: number, length: number): Promise<Uint8Array> {
    const bytes = new Uint8Array(Math.ceil(length / PART_BYTES) * PART_BYTES);
    for (let part = 0; part * PART_BYTES < length; part++) {
      const question = encodeMessage(MESSAGES.ALONE_GET, { owner, what, part });
      const answer = await ask(question, (message) => {
        const heard = decodeMessage(MESSAGES.ALONE_PART, message);
        return heard?.what === what && heard.part === part ? heard : null;
      });
      bytes.set(answer.bytes, part * PART_BYTES);
    }
    return bytes.subarray(0, length);
  }

  async function own(): Promise<void> {
    const { layout } = await stateAfter(encodeRequest(MESSAGES.ALONE_STATE));
    if (layout !== ALONE_LAYOUT)
      throw new PlainError(
        'alone-layout',
        `The sleeve's program keeps what it needs in another way (${layout}) than this Ebbline (${ALONE_LAYOUT}).`,
        'Put the program on the sleeve that came with this Ebbline, or update Ebbline.',
      );
    // Also if it has an owner: with its button held down it accepts another.
    await order(ORDER.own);
  }

  return {
    state: () => stateAfter(encodeRequest(MESSAGES.ALONE_STATE)),
    async turnOn(block) {
      await own();
      for (let part = 0; part * PART_BYTES < PLACE_BYTES; part++) {
        const bytes = [...block.subarray(part * PART_BYTES, (part + 1) * PART_BYTES)];
        await told(encodeMessage(MESSAGES.ALONE_PUT, { owner, part, bytes: bytes as never }));
      }
      const { refused } = await order(ORDER.on);
      if (refused !== 0) throw refusedBy(refused);
      const kept = await fetch(0, PLACE_BYTES);
      if (block.some((byte, i) => kept[i] !== byte)) {
        await order(ORDER.off);
        throw new PlainError(
          'alone-changed',
          'The sleeve keeps other bytes than were sent; it was turned off again.',
          'Bring it nearer and try again.',
        );
      }
    },
    async turnOff() {
      await order(ORDER.off);
    },
    fetchFeeds: () => fetch(1, FEEDS_BYTES),
    async forgetFeeds() {
      await order(ORDER.fetched);
    },
  };
}

const silent = (link: SleeveLink): PlainError =>
  new PlainError(
    'alone-older',
    `The sleeve on ${link.label} does not say whether it can guide alone.`,
    'Its program is older, or it is out of reach: bring it nearer, or put the program on it that came with this Ebbline.',
  );

const notOwner = (): PlainError =>
  new PlainError(
    'alone-owner',
    'The sleeve belongs to another computer and takes no orders about guiding alone from this one.',
    'Hold its button down and run the same command again: it then belongs to this computer.',
  );

const refusedBy = (why: number): PlainError =>
  new PlainError(
    'alone-refused',
    `The sleeve refused what was sent: ${REFUSALS[why] ?? 'it does not say why'}. What it kept before is still there.`,
    'Try again; if it stays, check calibration and sleeve number.',
  );
