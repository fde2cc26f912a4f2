/**
 * The sleeve's light, buzzer and button, by a johnny-five board on a link. Both the Firmata library and our own scanner receive
 * the bytes; only the link writes. The library gets complete ordinary Firmata messages only: it has no use for our own messages,
 * and an unterminated one would make its buffer grow without limit.
 */
import type { Firmata } from 'firmata-io';
import five, { type RGB } from 'johnny-five';
import {
  distinctUntilChanged,
  EMPTY,
  type Observable,
  ReplaySubject,
  type SchedulerLike,
  Subscription,
  switchMap,
  timer,
} from 'rxjs';
import { pinNamed } from '../hardware/pins.ts';
import { PlainError } from '../src/base/errors.ts';
import { createFirmataListener, type FirmataListener } from './firmata-listener.ts';
import type { SleeveLink } from './links/link.ts';
import { monotonic } from './links/monotonic.ts';
import {
  createFirmataFramer,
  createScanner,
  encodeMessage,
  encodeRequest,
  frameFirmata,
  MESSAGES,
  SAMPLE_FLAGS,
  type Sound,
  scan,
} from './wire/index.ts';

/** Pins that a Firmata host drives or reads. The light is common cathode: a higher level is brighter. */
export const SLEEVE_PINS = {
  red: pinNamed('LIGHT_RED').number,
  green: pinNamed('LIGHT_GREEN').number,
  blue: pinNamed('LIGHT_BLUE').number,
  button: pinNamed('BUTTON').number,
} as const;

/** Levels of the three colors, 0 (off) to 255. */
export interface LightColor {
  red: number;
  green: number;
  blue: number;
}

export interface SleeveBoard {
  /** Resolves once the light can be set; fails with a PlainError after the time-out, while the board keeps trying. */
  readonly ready: Promise<void>;
  /** True while the button is down, as the Firmata library reads it; replays the latest value. */
  readonly button$: Observable<boolean>;
  /** Sent when it changes, again with the next heartbeat, and whenever the sleeve may have lost it. */
  setLight(color: LightColor): void;
  sound(sound: Sound): void;
  /** To be called at least once a second. */
  heartbeat(guidanceOn: boolean): void;
  stream(on: boolean): void;
  /** Stops using the link, but does not close it. */
  close(): void;
}

export interface BoardOptions {
  /** How long `ready` waits, milliseconds. Default 10 000. */
  readyTimeoutMs?: number;
}

interface Outputs {
  io: Firmata;
  rgb: RGB;
}

/** A handshake that takes longer is started again. */
const HANDSHAKE_MS = 2000;
/** How often the sleeve is asked for its battery voltage, together with a heartbeat; a sleeve that does not measure it does not answer. */
const BATTERY_ASKED_MS = 10_000;

/**
 * The light is sent again after this time: without a heartbeat the sleeve shows its own "no guidance" light by then (sleeve contract, section 2), and a
 * radio link may have lost the message twice.
 */
const LIGHT_AGAIN_MS = 2000;

/** Creates a board on `link`, which may be opened before or after. One process may have several boards. */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one board: a reset must restore exactly the state that its commands set
export function createSleeveBoard(
  link: SleeveLink,
  options: BoardOptions = {},
  scheduler: SchedulerLike = monotonic,
): SleeveBoard {
  const { readyTimeoutMs = 10_000 } = options;
  const button$ = new ReplaySubject<boolean>(1);
  const everything = new Subscription();
  const scanner = createScanner();
  let framer = createFirmataFramer('sleeve-to-host');
  let listener: FirmataListener | null = null;
  let outputs: Outputs | null = null;
  let light: LightColor = { red: 0, green: 0, blue: 0 };
  let streaming = true;
  let lightSentMs = Number.NEGATIVE_INFINITY;
  /** The light has changed since the last heartbeat. */
  let lightIsNew = false;
  let guided = false;
  let batteryAskedMs = Number.NEGATIVE_INFINITY;
  let settle: { resolve: () => void; reject: (error: PlainError) => void };
  const ready = new Promise<void>((resolve, reject) => {
    settle = { resolve, reject };
  });
  // Nobody has to await `ready`, so its failure must not count as unhandled.
  ready.catch(() => {});

  const send = (bytes: Uint8Array): void => {
    if (!everything.closed) link.write(bytes);
  };

  function shakeHands(): void {
    listener?.close();
    listener = createFirmataListener(link, (io) => {
      const board = new five.Board({ io, repl: false, debug: false, sigint: false });
      board.once('ready', () => {
        if (everything.closed) return;
        outputs = createOutputs(board, io, button$);
        restore(outputs);
        settle.resolve();
      });
    });
  }

  function sendLight({ rgb }: Outputs): void {
    rgb.color(light);
    lightSentMs = scheduler.now();
  }

  /** Sends again everything that a chip loses in a reset, or may have missed while the link was down. */
  function restore(restored: Outputs): void {
    const { io } = restored;
    for (const pin of [SLEEVE_PINS.red, SLEEVE_PINS.green, SLEEVE_PINS.blue]) io.pinMode(pin, io.MODES.PWM);
    sendLight(restored);
    io.pinMode(SLEEVE_PINS.button, io.MODES.PULLUP);
    io.reportDigitalPin(SLEEVE_PINS.button, 1);
    if (!streaming) send(encodeMessage(MESSAGES.STREAM, { on: 0 }));
  }

  const afterReset = (): void => {
    if (outputs) restore(outputs);
  };
  const sink = {
    sample({ flags }: { flags: number }) {
      if (flags & SAMPLE_FLAGS.firstAfterReset) afterReset();
    },
    identity: afterReset,
  };

  everything.add(
    link.bytes$.subscribe((bytes) => {
      frameFirmata(framer, bytes, (message) => listener?.hear(message));
      scan(scanner, bytes, sink);
    }),
  );
  everything.add(
    link.state$
      .pipe(switchMap((state) => (state.kind === 'open' ? timer(0, HANDSHAKE_MS, scheduler) : EMPTY)))
      .subscribe((tick) => {
        if (tick === 0) framer = createFirmataFramer('sleeve-to-host');
        if (outputs === null) shakeHands();
        else if (tick === 0) restore(outputs);
      }),
  );
  everything.add(timer(readyTimeoutMs, scheduler).subscribe(() => settle.reject(notReady(link))));

  return {
    ready,
    button$: button$.pipe(distinctUntilChanged()),
    setLight(color) {
      const same = color.red === light.red && color.green === light.green && color.blue === light.blue;
      if (same) return;
      light = color;
      lightIsNew = true;
      if (outputs) sendLight(outputs);
    },
    sound: (sound) => send(encodeMessage(MESSAGES.SOUND, sound)),
    heartbeat(guidanceOn) {
      send(encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: guidanceOn ? 1 : 0 }));
      const nowMs = scheduler.now();
      // If a radio link lost the change, an old cue would stay on the light.
      const isDue = lightIsNew || !guided || nowMs - lightSentMs >= LIGHT_AGAIN_MS;
      if (guidanceOn && isDue && outputs) sendLight(outputs);
      if (guidanceOn) lightIsNew = false;
      if (nowMs - batteryAskedMs >= BATTERY_ASKED_MS) {
        batteryAskedMs = nowMs;
        send(encodeRequest(MESSAGES.BATTERY));
      }
      guided = guidanceOn;
    },
    stream(on) {
      streaming = on;
      send(encodeMessage(MESSAGES.STREAM, { on: on ? 1 : 0 }));
    },
    close() {
      if (everything.closed) return;
      everything.unsubscribe();
      settle.reject(
        new PlainError('board-closed', `The sleeve on ${link.label} was let go.`, 'Start again.'),
      );
      // If the button is down now, a timer of the library would keep the process alive.
      outputs?.io.emit(`digital-read-${SLEEVE_PINS.button}`, 1);
      outputs = null;
      listener?.close();
      button$.complete();
    },
  };
}

function createOutputs(
  board: InstanceType<typeof five.Board>,
  io: Firmata,
  button$: ReplaySubject<boolean>,
): Outputs {
  const { red, green, blue, button: pin } = SLEEVE_PINS;
  const rgb = new five.Led.RGB({ board, pins: { red, green, blue } });
  const button = new five.Button({ board, pin, isPullup: true });
  button.on('down', () => button$.next(true));
  button.on('up', () => button$.next(false));
  return { io, rgb };
}

const notReady = (link: SleeveLink): PlainError =>
  new PlainError(
    'board-silent',
    `The sleeve on ${link.label} does not answer; its light and button do not work.`,
    'Switch the sleeve off and on again; if that does not help, put its firmware on anew.',
  );
