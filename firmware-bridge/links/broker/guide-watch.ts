/**
 * Whom a relay listens to, and until when what was said may be shown. Pure; times are those of the relay's own scheduler, ms.
 *
 * A word counts by the age of the newest byte of the sleeve that its guide had taken when it spoke. So a word that waited in a
 * queue, or that rests on bytes that waited in one, cannot light the sleeve.
 */
import { type GuideFrame, type Mark, sinceMark } from './frames.ts';

/** Guidance that rests on older bytes than this is stale. The sleeve itself goes dark after 2 s; this leaves 0.2 s to a busy computer. Own choice. */
export const GUIDANCE_LIMIT_MS = 1800;

export interface GuideWatch {
  /** Latest word of the guide that is listened to. */
  guide: Mark | null;
  number: number;
  /** The highest that was obeyed: whoever comes with a lower one was replaced. */
  epoch: number;
  /** When its latest word came. */
  wordAtMs: number;
  /** When the newest byte had been read that it had taken. */
  takenAtMs: number;
  /** Whether its latest heartbeat said that it guides. */
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

/** `play`: its bytes go to the sleeve. `late`: it is too old. `again`: it came before. `other`: another guide is listened to. */
export type Verdict = 'play' | 'late' | 'again' | 'other';

/** @param run  which process of the relay this is: marks of another one's clock mean nothing */
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

/** @returns when the sleeve goes dark unless another word comes; null while it is dark */
export const darkAtMs = (watch: GuideWatch): number | null =>
  watch.guides ? watch.takenAtMs + GUIDANCE_LIMIT_MS : null;
