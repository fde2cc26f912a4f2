/** Plays a capture as if its sleeve were there: in its own time, faster, or as fast as can be. */
import { basename } from 'node:path';
import { ReplaySubject, type SchedulerLike, Subject, type Subscription } from 'rxjs';
import { createScanner, finishScan, scan, stepTimeline, TIMELINE_START } from '../wire/index.ts';
import { noSamplesIn, readCapture } from './capture-file.ts';
import type { LinkState, SleeveLink } from './link.ts';
import { monotonic } from './monotonic.ts';

export interface CaptureLinkOptions {
  /** Device seconds in a second of the clock; `Infinity` for as fast as can be. Default 1. */
  speed?: number;
}

export interface CaptureLink extends SleeveLink {
  /** Plain sentences about the capture; filled by `open`. */
  readonly warnings: readonly string[];
}

const TICK_MS = 25;
/** Bytes looked at before the pace is checked again; about one sample. */
const PACED_STEP_BYTES = 32;
const UNPACED_STEP_BYTES = 64 * 1024;

/**
 * A link whose bytes come from the capture at `path`, at the pace of the device times in it. What is written to it goes
 * nowhere. `open` throws a PlainError for a file that is no capture.
 */
export function createCaptureLink(
  path: string,
  options: CaptureLinkOptions = {},
  scheduler: SchedulerLike = monotonic,
): CaptureLink {
  const { speed = 1 } = options;
  if (!(speed > 0)) throw new RangeError('speed must be greater than 0');
  const bytes$ = new Subject<Uint8Array>();
  const state$ = new ReplaySubject<LinkState>(1);
  const warnings: string[] = [];
  let playing: Subscription | null = null;
  let ended = false;
  state$.next({ kind: 'opening' });

  function end(): void {
    if (ended) return;
    ended = true;
    playing?.unsubscribe();
    state$.next({ kind: 'ended' });
    state$.complete();
    bytes$.complete();
  }

  function play(capture: Uint8Array): void {
    const timeOf = createStopwatch();
    const startMs = scheduler.now();
    const paced = Number.isFinite(speed);
    const stepBytes = paced ? PACED_STEP_BYTES : UNPACED_STEP_BYTES;
    let at = 0;
    let reachedSec = 0;
    playing = scheduler.schedule(
      function next() {
        const from = at;
        const untilSec = ((scheduler.now() - startMs) / 1000) * speed;
        do {
          if (paced && reachedSec > untilSec) break;
          const part = capture.subarray(at, at + stepBytes);
          at += part.length;
          if (paced) reachedSec = timeOf(part);
        } while (paced && at < capture.length);
        if (at > from) bytes$.next(capture.subarray(from, at));
        if (at >= capture.length) end();
        if (!ended) this.schedule(undefined, paced ? TICK_MS : 0);
      },
      paced ? TICK_MS : 0,
    );
  }

  return {
    label: basename(path),
    bytes$: bytes$.asObservable(),
    state$: state$.asObservable(),
    warnings,
    async open() {
      if (playing || ended) return;
      const capture = readCapture(path);
      const found = countSamples(capture.bytes);
      if (found.samples === 0) throw noSamplesIn(path, found.rejected);
      warnings.push(...capture.warnings);
      state$.next({ kind: 'open' });
      play(capture.bytes);
    },
    write() {},
    async close() {
      end();
    },
  };
}

/** @returns a function that takes bytes one part after another and tells the device time reached, seconds. */
function createStopwatch(): (part: Uint8Array) => number {
  const scanner = createScanner();
  let timeline = TIMELINE_START;
  const sink = {
    sample(sample: Parameters<typeof stepTimeline>[1]) {
      timeline = stepTimeline(timeline, sample).timeline;
    },
  };
  return (part) => {
    scan(scanner, part, sink);
    return timeline.atMicros / 1e6;
  };
}

function countSamples(bytes: Uint8Array): { samples: number; rejected: number } {
  const scanner = createScanner();
  scan(scanner, bytes, { sample: () => {} });
  finishScan(scanner);
  return scanner.counts;
}
