/** How long nothing was heard from the sleeve, and whether this program keeps up. Pure; times are those of the host's scheduler, ms. */

/** How often the live feed looks at the time. */
export const TICK_MS = 100;
/** Samples older than this are stale: no guidance rests on them. */
const STALE_MS = 500;
/** Two looks further apart than this: what comes next may be as old. */
const LATE_MS = 1000;

export interface Hearing {
  /**
   * Time without a sample, as far as the program was awake to hear one: after a busy moment it finds the waiting bytes first, instead of
   * crying wolf over them.
   */
  silentMs: number;
  tickAtMs: number;
  /** Late looks in a row: at one, nothing is said until what waited has been heard; from two on, this computer does not keep up. */
  lateTicks: number;
}

export const hearingFrom = (nowMs: number): Hearing => ({
  silentMs: Number.POSITIVE_INFINITY,
  tickAtMs: nowMs,
  lateTicks: 0,
});

export function hearTick({ silentMs, tickAtMs, lateTicks }: Hearing, nowMs: number): Hearing {
  const passedMs = nowMs - tickAtMs;
  return {
    silentMs: silentMs + Math.min(passedMs, 2 * TICK_MS),
    tickAtMs: nowMs,
    lateTicks: passedMs > LATE_MS ? lateTicks + 1 : 0,
  };
}

export const hearSample = (hearing: Hearing): Hearing => ({ ...hearing, silentMs: 0 });

/** Whether guidance may rest on what was heard last. */
export const isHeard = ({ silentMs, lateTicks }: Hearing): boolean => silentMs <= STALE_MS && lateTicks < 2;

/** Whether what comes now may be older than a second: nothing new is said from it. */
export const mayBeOld = ({ lateTicks }: Hearing): boolean => lateTicks > 0;

export const keepsUp = ({ lateTicks }: Hearing): boolean => lateTicks < 2;
