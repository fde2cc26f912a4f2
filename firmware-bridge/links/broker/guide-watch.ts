/**
 * Which guide a relay obeys, and how long its last message may be shown. Pure; times are those of the relay's own scheduler, ms.
 *
 * A message counts by the age of the sleeve's newest byte that its guide had when it sent it. So a message that waited in a
 * queue, or that is based on bytes that waited in one, cannot light the sleeve.
 */
import { type GuideFrame, type Mark, sinceMark } from './frames.ts';

/** Guidance based on bytes older than this is outdated. The sleeve itself shows "no guidance" after 2 s; the difference of 0.2 s allows for a busy computer. Own choice. */
export const GUIDANCE_LIMIT_MS = 1800;

export interface GuideWatch {
  /** Latest message of the guide that is obeyed. */
  guide: Mark | null;
  number: number;
  /** The highest obeyed: a guide with a lower number was replaced. */
  epoch: number;
  /** When its latest message came. */
  wordAtMs: number;
  /** When the newest byte that it had was read. */
  takenAtMs: number;
  /** Whether its latest heartbeat said that guidance is on. */
  guides: boolean;
}

export const NO_GUIDE: GuideWatch = {
  guide: null,
  number: 0,
  epoch: 0,
  wordAtMs: Number.NEGATIVE_INFINITY,
  takenAtMs: Number.NEGATIVE_INFINITY,
  guides: false,
};

/** `play`: its bytes go to the sleeve. `late`: too old. `again`: a repetition. `other`: another guide is obeyed. */
export type Verdict = 'play' | 'late' | 'again' | 'other';

/** @param run  id of the relay's process: marks from another process mean nothing */
export function takeWord(
  watch: GuideWatch,
  frame: GuideFrame,
  nowMs: number,
  run: string,
): { watch: GuideWatch; verdict: Verdict } {
  const isNew = watch.guide?.id !== frame.mark.id;
  const isNewer = frame.epoch > watch.epoch;
  const isReplaced = frame.epoch !== 0 && frame.epoch < watch.epoch;
  const isHeard = watch.guide !== null && nowMs - watch.wordAtMs < GUIDANCE_LIMIT_MS;
  if (isReplaced || (isNew && !isNewer && isHeard)) return { watch, verdict: 'other' };
  if (!isNew && frame.number <= watch.number) return { watch, verdict: 'again' };
  const before = isNew ? { ...NO_GUIDE, epoch: Math.max(watch.epoch, frame.epoch) } : watch;
  const takenAtMs =
    frame.relay?.id === run ? nowMs - sinceMark(nowMs, frame.relay.ms) : Number.NEGATIVE_INFINITY;
  return {
    watch: {
      ...before,
      guide: frame.mark,
      number: frame.number,
      wordAtMs: nowMs,
      takenAtMs: Math.max(before.takenAtMs, takenAtMs),
    },
    verdict: nowMs - takenAtMs < GUIDANCE_LIMIT_MS ? 'play' : 'late',
  };
}

export const isGuided = (watch: GuideWatch, nowMs: number): boolean =>
  watch.guides && nowMs - watch.takenAtMs < GUIDANCE_LIMIT_MS;

/** @returns when guidance ends unless another message comes; null if it has ended */
export const darkAtMs = (watch: GuideWatch): number | null =>
  watch.guides ? watch.takenAtMs + GUIDANCE_LIMIT_MS : null;
