/** Which bytes of a stream are on disk, and in which file. Pure. */

/** Consecutive bytes in one file, named by its position. */
export interface Segment {
  /** Position of its first byte in the stream. */
  offset: number;
  length: number;
}

const SEGMENT_BYTES = 1024 * 1024;
/** Eight hours of a sleeve with a gyroscope (3,700 bytes a second); 12 h of one without. */
export const KEPT_BYTES = 8 * 3600 * 3700;
/**
 * A new process continues this many bytes after the last one it finds. Bytes that were sent but not yet on disk at a power cut are
 * never more, so a position never stands for two different bytes.
 */
export const LEAP_BYTES = 1024 * 1024;

const NAME = /^(\d{16})\.bytes$/;
export const segmentName = ({ offset }: Pick<Segment, 'offset'>): string =>
  `${String(offset).padStart(16, '0')}.bytes`;
export const offsetIn = (name: string): number | null => {
  const digits = NAME.exec(name)?.[1];
  return digits === undefined ? null : Number(digits);
};

/** @returns position at which a new process begins to write */
export function nextStart(segments: readonly Segment[]): number {
  const last = segments.at(-1);
  return last ? last.offset + last.length + LEAP_BYTES : 0;
}

/** @returns the segment that continues at `offset`; null if a new one must begin */
export function openSegment(segments: readonly Segment[], offset: number): Segment | null {
  const last = segments.at(-1);
  return last && last.offset + last.length === offset && last.length < SEGMENT_BYTES ? last : null;
}

/** @returns how many of the oldest segments can be deleted so that at most `keepBytes` and one segment remain */
export function spentSegments(segments: readonly Segment[], keepBytes: number): number {
  let kept = segments.reduce((sum, { length }) => sum + length, 0);
  let spent = 0;
  while (spent < segments.length - 1 && kept - segments[spent]!.length >= keepBytes)
    kept -= segments[spent++]!.length;
  return spent;
}

/** @returns where the first byte at or after `position` lies; null if there is none */
export function locate(
  segments: readonly Segment[],
  position: number,
): { segment: Segment; at: number } | null {
  for (const segment of segments) {
    if (position < segment.offset + segment.length)
      return { segment, at: Math.max(0, position - segment.offset) };
  }
  return null;
}
