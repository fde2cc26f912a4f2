/**
 * From the sample that makes a rule true to the bytes of light and sound, on the real clock: a real serial link on a pseudo-terminal, a
 * board, a live feed and a store, as `ebbline start` joins them. Each round is a short feed of its own up to its first tilt-down.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createSleeveBoard, SLEEVE_PINS } from '../../firmware-bridge/board.ts';
import type { SleeveLink } from '../../firmware-bridge/links/link.ts';
import { createSerialLink } from '../../firmware-bridge/links/serial-link.ts';
import { createHostParser, createScanner, parseHostTraffic, scan } from '../../firmware-bridge/wire/index.ts';
import { boardOutputs } from '../../src/app/sleeve/board-outputs.ts';
import { createEngine, runEngine } from '../../src/feed/engine.ts';
import { lightFor } from '../../src/feed/live/light-language.ts';
import { createLiveFeed } from '../../src/feed/live/live.ts';
import { type Calibration, parseCalibration } from '../../src/sensing/index.ts';
import { PLAIN } from '../../src/simulation/real-hand.ts';
import { newFeedId } from '../../src/store/database/feed-id.ts';
import { openStore } from '../../src/store/open-store.ts';
import { createFakeSleeve } from '../support/fake-sleeve.ts';
import { seededRandom } from '../support/random.ts';
import { simulateCapture } from '../support/simulated-capture.ts';
import { openTimedTerminal, type TimedReport, type TimedTerminal } from './timed-terminal.ts';

const FRAME_BYTES = 31;
const FRAMES_PER_SEC = 80;
/** Frames after the one that makes the cue, so that the line does not fall silent at that moment. */
const FRAMES_AFTER = 8;
const LONGEST_SEC = 120;

/** A simulated feed, and the frame with which its first tilt-down comes. */
interface Prepared {
  bytes: Uint8Array;
  calibration: Calibration;
  cueFrame: number;
}

export interface CueLatencies {
  lightMs: number[];
  soundMs: number[];
  /** Rounds in which light or sound came before the sample, or not at all: these are faults. */
  early: number;
  missing: number;
  /** The host only answers each sample with a heartbeat: terminal, serial library and scanner alone. */
  echoMs: number[];
}

/** Simulated feeds with a tilt-down within two minutes, found by a dry run of the engine. */
export function prepareFeeds(count: number): Prepared[] {
  const prepared: Prepared[] = [];
  for (let seed = 1; prepared.length < count; seed++) {
    const { bytes, calibration } = simulateCapture({
      scenario: 'hurried-start',
      seed,
      // The sleeve sends samples only, so that frames can be cut by their length.
      overrides: PLAIN,
      longestSec: LONGEST_SEC,
    });
    const checked = parseCalibration(calibration, 'of the simulated sleeve');
    const cueFrame = firstTiltDown(bytes, checked);
    if (cueFrame !== null) prepared.push({ bytes, calibration: checked, cueFrame });
  }
  return prepared;
}

function firstTiltDown(bytes: Uint8Array, calibration: Calibration): number | null {
  const engine = createEngine({ calibration, portionMl: null, refinable: false });
  for (let frame = 0; frame * FRAME_BYTES < bytes.length; frame++) {
    let cued = false;
    runEngine(engine, bytes.subarray(frame * FRAME_BYTES, (frame + 1) * FRAME_BYTES), ({ cues }) => {
      cued ||= cues.some(({ kind }) => kind === 'tilt-down');
    });
    if (cued) return frame;
  }
  return null;
}

export interface LatencyRun {
  feeds: readonly Prepared[];
  rounds: number;
  /** Samples answered at once, for comparison. */
  echoes: number;
  /** Called after each round with the number done. */
  onRound?: (done: number) => void;
}

export async function cueLatencies({
  feeds,
  rounds,
  echoes,
  onRound = () => {},
}: LatencyRun): Promise<CueLatencies> {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-latency-'));
  const path = join(folder, 'sleeve');
  const terminal = await openTimedTerminal(path);
  const link = createSerialLink(path);
  const store = openStore(join(folder, 'data'), { recording: true });
  const board = createSleeveBoard(link);
  const random = seededRandom(7);
  const out: CueLatencies = { lightMs: [], soundMs: [], early: 0, missing: 0, echoMs: [] };
  try {
    answerHandshake(terminal);
    await link.open();
    await board.ready;
    terminal.onBytes = () => {};
    const read = readingOf(link);
    for (let round = 0; round < rounds; round++) {
      const feed = feeds[round % feeds.length]!;
      const live = createLiveFeed({
        link,
        calibration: feed.calibration,
        storage: store,
        outputs: boardOutputs(board),
        newFeedId: (startedAtMs) => newFeedId(startedAtMs, Math.random),
        wallNowMs: () => Date.now(),
        simulated: true,
        sleeveId: 'bench',
        soundOn: true,
      });
      // The lead is random, so that the store's writes, one a second, come at any time before or after the cue.
      const lead = Math.round(FRAMES_PER_SEC * (0.25 + 1.1 * random()));
      const from = feed.cueFrame - lead;
      const until = (feed.cueFrame + 1 + FRAMES_AFTER) * FRAME_BYTES;
      // What was sent at once is read before the pace begins, and all of it before the next round.
      terminal.send(feed.bytes.subarray(0, from * FRAME_BYTES));
      await read(from * FRAME_BYTES);
      const paced = feed.bytes.subarray(from * FRAME_BYTES, until);
      noteCue(await terminal.pace(paced, untilCued()), lead, out);
      await read(paced.length);
      live.stop();
      onRound(round + 1);
    }
    out.echoMs = await echoLatencies(terminal, link, feeds[0]!.bytes.subarray(0, echoes * FRAME_BYTES));
    return out;
  } finally {
    board.close();
    await link.close();
    store.close();
    await terminal.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Answers like a sleeve until the board is ready. */
function answerHandshake(terminal: TimedTerminal): void {
  const sleeve = createFakeSleeve();
  sleeve.samples = false;
  terminal.onBytes = (bytes) => {
    sleeve.receive(bytes);
    const answers = sleeve.advance(0);
    if (answers.length > 0) terminal.send(answers);
  };
}

/** @returns what waits until so many more bytes have come to the host */
function readingOf(link: SleeveLink): (bytes: number) => Promise<void> {
  let missing = 0;
  let isRead = (): void => {};
  link.bytes$.subscribe(({ length }) => {
    missing -= length;
    if (missing <= 0) isRead();
  });
  return (bytes) =>
    new Promise((resolve) => {
      missing += bytes;
      isRead = resolve;
      if (missing <= 0) resolve();
    });
}

/** @returns what tells of each piece from the host whether the light shows the whole of its new color now, and whether notes came */
function cueReader(): (bytes: Uint8Array) => { isLit: boolean; sounds: boolean } {
  const wanted = lightFor('tilt-down', false, 0);
  const levels = new Map<number, number>();
  const parser = createHostParser();
  return (bytes) => {
    let sounds = false;
    for (const message of parseHostTraffic(parser, bytes)) {
      if (message.kind === 'analog') levels.set(message.pin, message.level);
      if (message.kind === 'sound') sounds = true;
    }
    const isLit =
      levels.get(SLEEVE_PINS.red) === wanted.red &&
      levels.get(SLEEVE_PINS.green) === wanted.green &&
      levels.get(SLEEVE_PINS.blue) === wanted.blue;
    return { isLit, sounds };
  };
}

function untilCued(): (bytes: Uint8Array) => boolean {
  const reader = cueReader();
  const seen = { isLit: false, sounds: false };
  return (bytes) => {
    const { isLit, sounds } = reader(bytes);
    seen.isLit ||= isLit;
    seen.sounds ||= sounds;
    return seen.isLit && seen.sounds;
  };
}

/** When light and notes had come; against the sample `cueAt`. */
function noteCue({ wrote, heard }: TimedReport, cueAt: number, out: CueLatencies): void {
  const fromSec = wrote[cueAt]!;
  const reader = cueReader();
  let lightSec: number | null = null;
  let soundSec: number | null = null;
  for (const { atSec, bytes } of heard) {
    const { isLit, sounds } = reader(bytes);
    if (isLit) lightSec ??= atSec;
    if (sounds) soundSec ??= atSec;
  }
  if (lightSec === null || soundSec === null) out.missing += 1;
  else if (lightSec < fromSec || soundSec < fromSec) out.early += 1;
  else {
    out.lightMs.push((lightSec - fromSec) * 1000);
    out.soundMs.push((soundSec - fromSec) * 1000);
  }
}

const endsIn = (bytes: Uint8Array): number => bytes.filter((byte) => byte === 0xf7).length;

async function echoLatencies(
  terminal: TimedTerminal,
  link: SleeveLink,
  frames: Uint8Array,
): Promise<number[]> {
  const scanner = createScanner();
  const answer = Uint8Array.of(0xf0, 0x02, 0xf7);
  const listening = link.bytes$.subscribe((chunk) =>
    scan(scanner, chunk, { sample: () => link.write(answer) }),
  );
  let unheard = frames.length / FRAME_BYTES;
  const { wrote, heard } = await terminal.pace(frames, (piece) => {
    unheard -= endsIn(piece);
    return unheard <= 0;
  });
  listening.unsubscribe();
  const heardSec = heard.flatMap(({ atSec, bytes: piece }) => Array<number>(endsIn(piece)).fill(atSec));
  return heardSec.slice(0, wrote.length).map((atSec, i) => (atSec - wrote[i]!) * 1000);
}
