/** Which bytes of a stream are on the disk, in which file. Pure. */

/** A run of bytes in a file of its own, named by its position. */
export interface Segment {
  /** Position of its first byte in the stream. */
  offset: number;
  length: number;
}

export const SEGMENT_BYTES = 1024 * 1024;
/** A sleeve with a gyroscope sends 3,700 bytes a second; without one they last for 12 h. */
export const KEPT_BYTES = 8 * 3600 * 3700;
/**
 * A new process goes on so far after what it finds. What had been sent, but was not yet on the disk when the power went, is
 * never more; so no position stands for two bytes.
 */
export const LEAP_BYTES = 1024 * 1024;

const NAME = /^(\d{16})\.bytes$/;
export const segmentName = ({ offset }: Pick<Segment, 'offset'>): string =>
  `${String(offset).padStart(16, '0')}.bytes`;
export const offsetIn = (name: string): number | null => {
  const digits = NAME.exec(name)?.[1];
  return digits === undefined ? null : Number(digits);
};

/** @returns where a new process begins to write */
export function nextStart(segments: readonly Segment[]): number {
  const last = segments.at(-1);
  return last ? last.offset + last.length + LEAP_BYTES : 0;
}

/** @returns the segment that bytes at `offset` go on in, null when a new one is to be begun */
export function openSegment(segments: readonly Segment[], offset: number): Segment | null {
  const last = segments.at(-1);
  return last && last.offset + last.length === offset && last.length < SEGMENT_BYTES ? last : null;
}

/** @returns how many of the oldest segments may go, so that no more than `keepBytes` and one segment stay */
export function spentSegments(segments: readonly Segment[], keepBytes: number): number {
  let kept = segments.reduce((sum, { length }) => sum + length, 0);
  let spent = 0;
  while (spent < segments.length - 1 && kept - segments[spent]!.length >= keepBytes)
    kept -= segments[spent++]!.length;
  return spent;
}

/** @returns where the first byte at `position` or after it lies; null when there is none */
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
