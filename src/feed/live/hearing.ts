/** How long the sleeve has been silent, and whether this program keeps up with its input. Pure; times are those of the host's scheduler, ms. */

/** Period of the live feed's own timer. */
export const TICK_MS = 100;
/** Samples older than this are stale and are not used for guidance. */
const STALE_MS = 500;
/** If the timer is later than this, the bytes that come next may be as old. */
const LATE_MS = 1000;

export interface Hearing {
  /**
   * Time without a sample while the program was able to receive one. After a busy moment the waiting bytes are read first, so that the sleeve
   * is not called silent by mistake.
   */
  silentMs: number;
  tickAtMs: number;
  /** Late timer events in a row: after one, nothing is said until the waiting bytes are read; from two on, this computer is too slow. */
  lateTicks: number;
}

export const hearingFrom = (nowMs: number): Hearing => ({
  silentMs: Number.POSITIVE_INFINITY,
  tickAtMs: nowMs,
  lateTicks: 0,
});

/** @param canBeLate  false for a simulated sleeve: it makes its bytes only when this program runs, so they are never old */
export function hearTick(
  { silentMs, tickAtMs, lateTicks }: Hearing,
  nowMs: number,
  canBeLate = true,
): Hearing {
  const passedMs = nowMs - tickAtMs;
  return {
    silentMs: silentMs + Math.min(passedMs, 2 * TICK_MS),
    tickAtMs: nowMs,
    lateTicks: canBeLate && passedMs > LATE_MS ? lateTicks + 1 : 0,
  };
}

export const hearSample = (hearing: Hearing): Hearing => ({ ...hearing, silentMs: 0 });

/** Whether guidance may use what was received last. */
export const isHeard = ({ silentMs, lateTicks }: Hearing): boolean => silentMs <= STALE_MS && lateTicks < 2;

/** Whether the next bytes may be older than a second: nothing new is said from them. */
export const mayBeOld = ({ lateTicks }: Hearing): boolean => lateTicks > 0;

export const keepsUp = ({ lateTicks }: Hearing): boolean => lateTicks < 2;
