/** The end of a feed: amounts taken and left over, until when the rest may be used, and steps done since. Pure. */
import type { KeptFeed } from '../../feed/record/feed.ts';
import { type LocalTime, leftOverClocks } from '../../planning/milk/milk-times.ts';
import { stayedMl } from '../../review/index.ts';
import type { AfterAnswer } from './review-answers.ts';

/** @param local rules of the place for milk, which replace published ones */
export function afterFeed(
  feed: KeptFeed,
  nowMs: number,
  local: readonly LocalTime[],
): Omit<AfterAnswer, 'zone'> {
  const setup = feed.corrected?.setup ?? feed.setup;
  const startedAtMs = feed.corrected?.startedAtMs ?? feed.startedAtMs;
  const finishedAtMs = finishedAt(feed, startedAtMs, nowMs);
  const { milkKind } = setup;
  const offered = { feedStartedAtMs: startedAtMs, feedEndedAtMs: finishedAtMs };
  return {
    id: feed.id,
    nowMs,
    startedAtMs,
    finishedAtMs,
    isEnded: feed.state !== 'open',
    simulated: feed.simulated,
    takenMl: Math.max(0, feed.intakeMl),
    ...leftOver(feed),
    milkKind,
    uses:
      milkKind === null
        ? []
        : leftOverClocks(milkKind, offered, local).map(({ situation, passesAtMs, hours, source, local }) => ({
            from: situation === 'after-feed' ? 'end' : 'start',
            untilMs: passesAtMs,
            hours,
            authority: local ? null : situation === 'drunk-from' ? 'NHS' : 'CDC',
            rule: local ? source : null,
          })),
    done: feed.corrected?.after ?? {},
    note: feed.corrected?.note ?? null,
    caregiver: setup.caregiver,
    sensorFaults: [
      ...new Set(feed.events.flatMap((event) => (event.kind === 'sensor-fault' ? [event.fault] : []))),
    ],
  };
}

/** When the baby last had the nipple; the feed may be ended much later. In a simulation the sleeve's time may run faster than the clock. */
function finishedAt(
  { durationSec, endedAtMs, corrected }: KeptFeed,
  startedAtMs: number,
  nowMs: number,
): number {
  const lastSuckMs = startedAtMs + durationSec * 1000;
  return Math.min(lastSuckMs, corrected?.endedAtMs ?? endedAtMs ?? nowMs, nowMs);
}

/** The same amount as in the day's sums; if nothing was entered or read, the sleeve's last weighing. */
function leftOver(feed: KeptFeed): Pick<AfterAnswer, 'leftMl' | 'isWeighed'> {
  const reckonedMl = stayedMl(feed);
  if (reckonedMl !== null) return { leftMl: reckonedMl, isWeighed: false };
  const milkMl = feed.refined?.milkMl ?? feed.rows.map((row) => row.milkMl);
  const lastMl = milkMl.findLast((ml) => ml !== null) ?? null;
  return { leftMl: lastMl === null ? null : Math.max(0, lastMl), isWeighed: lastMl !== null };
}
