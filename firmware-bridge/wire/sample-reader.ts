/** Bytes in any split to samples on the device's time, each with its motion: scanner and time line joined. */
import type { Motion, Sample } from './messages.ts';
import { createScanner, finishScan, scan } from './scanner.ts';
import { stepMotion, stepTimeline, TIMELINE_START, type TimedSample, type TimelineStep } from './timeline.ts';

export interface SampleReader {
  take(bytes: Uint8Array): void;
  /** The bytes have ended: passes on the sample that still waits for its motion. */
  end(): void;
}

export function createSampleReader(onSample: (sample: TimedSample) => void): SampleReader {
  const scanner = createScanner();
  let timeline = TIMELINE_START;
  const step = (next: TimelineStep): void => {
    timeline = next.timeline;
    if (next.timed) onSample(next.timed);
  };
  const sink = {
    sample: (sample: Sample) => step(stepTimeline(timeline, sample)),
    motion: (motion: Motion) => step(stepMotion(timeline, motion)),
  };
  return {
    take: (bytes) => scan(scanner, bytes, sink),
    end() {
      finishScan(scanner);
      if (timeline.waiting) onSample(timeline.waiting);
    },
  };
}
