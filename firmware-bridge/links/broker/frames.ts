/**
 * Messages about one sleeve on the broker, as bytes: little-endian, a header, then the sleeve's or the host's own bytes. Pure.
 *
 * Positions count the bytes of a stream from its first one, so that a receiver can tell what is missing and what came twice. Marks
 * are milliseconds of the sender's own monotonic clock, meaningless to others: each side returns the other's latest mark,
 * and so learns how old its own message is. Clocks of two machines are never compared.
 */
const VERSION = 2;
export const ID_DIGITS = 16;
const FROM_HEADER = 54;
const TO_HEADER = 50;
const UNKNOWN_AGE = 0xffff_ffff;
const NOBODY = '0'.repeat(ID_DIGITS);

/** A mark and whose clock it is from. */
export interface Mark {
  /** Id of the process: 16 hexadecimal digits. */
  id: string;
  /** Milliseconds of its monotonic clock, modulo 2^32. */
  ms: number;
}

/** From the relay. */
export interface SleeveFrame {
  /** The log in which positions count: 16 hexadecimal digits. */
  stream: string;
  /** When these bytes were read. */
  mark: Mark;
  /** Milliseconds from reading the last byte to sending it; null: unknown, and long ago. */
  ageMs: number | null;
  /** The latest message of the guide that the relay obeys; null if there is none. */
  guide: Mark | null;
  /** Whether the sleeve is connected to the relay now. */
  isThere: boolean;
  /** All bytes before it were sent; less than `offset` if the log has lost bytes. */
  previous: number;
  /** Position of the first of `bytes`. */
  offset: number;
  bytes: Uint8Array;
}

/** From the guide. */
export interface GuideFrame {
  mark: Mark;
  /** Increases by one with each frame of this guide. */
  number: number;
  /** Increases each time the relay asks for a guide; 0: it was not asked, as at home. */
  epoch: number;
  /** Mark of the relay's latest frame that was taken; null before the first. */
  relay: Mark | null;
  /** The next byte wanted; null before it has any: then those from now on. */
  wants: { stream: string; next: number } | null;
  /** True: send from that byte now, whatever was sent before. */
  isAsking: boolean;
  bytes: Uint8Array;
}

/** @returns the mark for a time of a monotonic clock, ms */
export const markMs = (nowMs: number): number => Math.floor(nowMs) >>> 0;
/** @returns milliseconds since a mark of the same clock; it wraps after 49 days */
export const sinceMark = (nowMs: number, mark: number): number => (markMs(nowMs) - mark) >>> 0;

/**
 * @param guide  id of the guide whose clock `nowMs` is from
 * @returns greatest possible age of a frame's last byte, ms, by the guide's clock alone: its age when it was sent, plus the time
 * since the guide had sent the message that the relay had received by then
 */
export const heardAgoMs = (frame: SleeveFrame, guide: string, nowMs: number): number =>
  frame.ageMs !== null && frame.guide?.id === guide
    ? frame.ageMs + sinceMark(nowMs, frame.guide.ms)
    : Number.POSITIVE_INFINITY;

const bufferOf = ({ buffer, byteOffset, byteLength }: Uint8Array): Buffer =>
  Buffer.from(buffer, byteOffset, byteLength);
const putId = (frame: Uint8Array, at: number, id: string): unknown =>
  bufferOf(frame).write(id, at, ID_DIGITS / 2, 'hex');
const idAt = (frame: Uint8Array, at: number): string =>
  bufferOf(frame).toString('hex', at, at + ID_DIGITS / 2);
const viewOf = (frame: Uint8Array): DataView =>
  new DataView(frame.buffer, frame.byteOffset, frame.byteLength);

export function encodeSleeveFrame(frame: SleeveFrame): Uint8Array {
  const out = new Uint8Array(FROM_HEADER + frame.bytes.length);
  const view = viewOf(out);
  out[0] = VERSION;
  out[1] = frame.isThere ? 1 : 0;
  putId(out, 2, frame.stream);
  putId(out, 10, frame.mark.id);
  view.setUint32(18, frame.mark.ms, true);
  view.setUint32(22, frame.ageMs === null ? UNKNOWN_AGE : markMs(frame.ageMs), true);
  putId(out, 26, frame.guide?.id ?? NOBODY);
  view.setUint32(34, frame.guide?.ms ?? 0, true);
  view.setFloat64(38, frame.previous, true);
  view.setFloat64(46, frame.offset, true);
  out.set(frame.bytes, FROM_HEADER);
  return out;
}

/** @returns null if it is not such a frame */
export function decodeSleeveFrame(frame: Uint8Array): SleeveFrame | null {
  if (frame.length < FROM_HEADER || frame[0] !== VERSION) return null;
  const view = viewOf(frame);
  const [previous, offset] = [view.getFloat64(38, true), view.getFloat64(46, true)];
  if (!isPosition(previous) || !isPosition(offset) || previous > offset) return null;
  const age = view.getUint32(22, true);
  return {
    stream: idAt(frame, 2),
    mark: { id: idAt(frame, 10), ms: view.getUint32(18, true) },
    ageMs: age === UNKNOWN_AGE ? null : age,
    guide: markAt(frame, view, 26),
    isThere: (frame[1]! & 1) !== 0,
    previous,
    offset,
    bytes: frame.subarray(FROM_HEADER),
  };
}

export function encodeGuideFrame(frame: GuideFrame): Uint8Array {
  const out = new Uint8Array(TO_HEADER + frame.bytes.length);
  const view = viewOf(out);
  out[0] = VERSION;
  out[1] = (frame.isAsking ? 1 : 0) | (frame.wants ? 2 : 0);
  putId(out, 2, frame.mark.id);
  view.setUint32(10, frame.number, true);
  view.setUint32(14, frame.mark.ms, true);
  putId(out, 18, frame.relay?.id ?? NOBODY);
  view.setUint32(26, frame.relay?.ms ?? 0, true);
  putId(out, 30, frame.wants?.stream ?? NOBODY);
  view.setFloat64(38, frame.wants?.next ?? 0, true);
  view.setUint32(46, frame.epoch, true);
  out.set(frame.bytes, TO_HEADER);
  return out;
}

/** @returns null if it is not such a frame */
export function decodeGuideFrame(frame: Uint8Array): GuideFrame | null {
  if (frame.length < TO_HEADER || frame[0] !== VERSION) return null;
  const view = viewOf(frame);
  const next = view.getFloat64(38, true);
  if (!isPosition(next)) return null;
  return {
    mark: { id: idAt(frame, 2), ms: view.getUint32(14, true) },
    number: view.getUint32(10, true),
    epoch: view.getUint32(46, true),
    relay: markAt(frame, view, 18),
    wants: (frame[1]! & 2) === 0 ? null : { stream: idAt(frame, 30), next },
    isAsking: (frame[1]! & 1) !== 0,
    bytes: frame.subarray(TO_HEADER),
  };
}

const isPosition = (value: number): boolean => Number.isSafeInteger(value) && value >= 0;

function markAt(frame: Uint8Array, view: DataView, at: number): Mark | null {
  const id = idAt(frame, at);
  return id === NOBODY ? null : { id, ms: view.getUint32(at + 8, true) };
}
