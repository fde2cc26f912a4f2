/** From bytes, in chunks of any size, to samples in device time with their motions: scanner and timeline together. */
import type { Motion, Sample } from './messages.ts';
import { createScanner, finishScan, scan } from './scanner.ts';
import { stepMotion, stepTimeline, TIMELINE_START, type TimedSample, type TimelineStep } from './timeline.ts';

export interface SampleReader {
  take(bytes: Uint8Array): void;
  /** End of the bytes: passes on the sample that still waits for its motion. */
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
