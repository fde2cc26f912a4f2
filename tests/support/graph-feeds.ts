/** Invented feeds for the graph of a feed: made by a few lines, without physics. */
import type { FeedEvent, FeedRow, KeptFeed } from '../../src/feed/record/feed.ts';
import type { Cue } from '../../src/pacing/cues/cue.ts';
import type { RefinedFeed, SensingEvent } from '../../src/sensing/moment.ts';
import { seededRandom } from './random.ts';

/** The capture begins this long before the first latch. */
const LEAD_SEC = 20;
const STEP_SEC = 0.25;

/** One part of a feed: bursts and pauses, then the teat out for a while. */
interface Stretch {
  seconds: number;
  mlPerSuck: number;
  sucksPerBurst: number;
  pauseSec: number;
  outSec: number;
}

interface Scenario {
  id: string;
  milkMl: number;
  stretches: Stretch[];
  cues: (Omit<Cue, 'atSec' | 'because'> & { min: number })[];
  pours?: (Omit<Extract<SensingEvent, { kind: 'spill' | 'refill' }>, 'atSec'> & { min: number })[];
  /** Minutes without samples. */
  gap?: [fromMin: number, toMin: number];
  /** Minutes in which the caregiver had paused the cues. */
  paused?: [fromMin: number, toMin: number];
  change?: Partial<KeptFeed>;
}

const gently = (seconds: number, outSec: number): Stretch => ({
  seconds,
  mlPerSuck: 0.17,
  sucksPerBurst: 7,
  pauseSec: 5,
  outSec,
});

/** Nineteen minutes, paced: short bursts, nipple out to burp. */
export const gentleFeed = (): KeptFeed =>
  feedOf({
    id: '20260105-090003-k7q2',
    milkMl: 100,
    stretches: [gently(190, 35), gently(200, 40), gently(210, 25), gently(180, 40), gently(130, 5)],
    cues: [
      { kind: 'burp', min: 3.0 },
      { kind: 'burp', min: 6.9 },
      { kind: 'switch-side', min: 9.2 },
      { kind: 'burp', min: 11.4 },
      { kind: 'burp', min: 15.1 },
      { kind: 'offer-stop', min: 16.9 },
    ],
  });

/** Five minutes, poured: long bursts, hardly any pause. */
export const fastFeed = (): KeptFeed =>
  feedOf({
    id: '20260105-120010-b3xw',
    milkMl: 120,
    stretches: [{ seconds: 300, mlPerSuck: 0.38, sucksPerBurst: 28, pauseSec: 2.6, outSec: 6 }],
    cues: [
      { kind: 'tilt-down', min: 0.55 },
      { kind: 'burp', min: 0.9 },
      { kind: 'tilt-down', min: 1.3 },
      { kind: 'burp', min: 1.9 },
      { kind: 'tilt-down', min: 2.2 },
      { kind: 'burp', min: 2.9 },
      { kind: 'tilt-down', min: 3.2 },
      { kind: 'tilt-down', min: 4.1 },
    ],
  });

/** A drowsy baby who stops early. */
export const drowsyFeed = (): KeptFeed =>
  feedOf({
    id: '20260106-023000-zz2d',
    milkMl: 90,
    stretches: [
      gently(120, 10),
      { seconds: 200, mlPerSuck: 0.12, sucksPerBurst: 4, pauseSec: 11, outSec: 30 },
      { seconds: 170, mlPerSuck: 0.08, sucksPerBurst: 3, pauseSec: 20, outSec: 5 },
    ],
    cues: [
      { kind: 'burp', min: 3.4 },
      { kind: 'offer-stop', min: 8.1 },
    ],
  });

/** A let-down, a spill, a refill, a minute without samples, cues paused for a while, on a simulated sleeve. */
export const eventfulFeed = (): KeptFeed =>
  feedOf({
    id: '20260107-171500-m9tk',
    milkMl: 60,
    stretches: [
      { seconds: 110, mlPerSuck: 0.33, sucksPerBurst: 22, pauseSec: 3, outSec: 30 },
      gently(150, 45),
      gently(230, 20),
      { ...gently(260, 8), sucksPerBurst: 11 },
    ],
    cues: [
      { kind: 'tilt-down', min: 0.6 },
      { kind: 'tilt-down', min: 1.5 },
      { kind: 'burp', min: 1.9 },
      { kind: 'burp', min: 4.6 },
      { kind: 'switch-side', min: 5.4 },
      { kind: 'burp', min: 9.6 },
    ],
    pours: [
      { kind: 'spill', volumeMl: 9, min: 2.1 },
      { kind: 'refill', volumeMl: 40, min: 5.1 },
    ],
    gap: [7, 8.1],
    change: { simulated: true },
    paused: [11, 13],
  });

/** The same feed in its sixth minute, still running: only live rows. */
export function unfinishedFeed(): KeptFeed {
  const whole = eventfulFeed();
  const untilSec = LEAD_SEC + 6 * 60;
  const rows = whole.rows.filter(({ atSec }) => atSec <= untilSec);
  return {
    ...whole,
    state: 'open',
    endedAtMs: null,
    endReason: null,
    refined: null,
    rows,
    cues: whole.cues.filter(({ atSec }) => atSec <= untilSec),
    told: whole.told!.filter(({ sinceSec }) => sinceSec <= untilSec),
    events: whole.events.filter(({ atSec }) => atSec <= untilSec),
    intakeMl: rows.at(-1)!.intakeMl,
    durationSec: 360,
  };
}

/** A bottle that was offered and not taken. */
export const refusedFeed = (): KeptFeed =>
  feedOf({
    id: '20260108-110000-ffff',
    milkMl: 75,
    stretches: [{ seconds: 12, mlPerSuck: 0.04, sucksPerBurst: 2, pauseSec: 6, outSec: 20 }],
    cues: [],
  });

function feedOf({ id, milkMl, stretches, cues, pours = [], gap, paused, change }: Scenario): KeptFeed {
  const random = seededRandom(milkMl * 1000 + stretches.length);
  const wobble = (share: number) => 1 + share * (2 * random() - 1);
  const suckAtSec: number[] = [];
  const mlOfSuck: number[] = [];
  const teatIn: [number, number][] = [];
  let clock = LEAD_SEC;
  for (const stretch of stretches) {
    const fromSec = clock;
    clock += 1.5;
    while (clock < fromSec + stretch.seconds) {
      const count = Math.max(1, Math.round(stretch.sucksPerBurst * wobble(0.35)));
      for (let i = 0; i < count; i++) {
        suckAtSec.push(clock);
        mlOfSuck.push(stretch.mlPerSuck * wobble(0.3));
        clock += 0.92 * wobble(0.1);
      }
      clock += stretch.pauseSec * wobble(0.4);
    }
    teatIn.push([fromSec, clock]);
    clock += stretch.outSec;
  }
  const endSec = clock;
  const isLost = (sec: number): boolean =>
    gap !== undefined && sec > LEAD_SEC + gap[0] * 60 && sec < LEAD_SEC + gap[1] * 60;
  const pourEvents = pours.map(({ min, ...pour }) => ({ ...pour, atSec: LEAD_SEC + min * 60 }));
  const refined: RefinedFeed = {
    atSec: [],
    milkMl: [],
    flowMlPerMin: [],
    intakeMl: [],
    milkSdMl: [],
    teatInMouth: [],
    totals: { intakeMl: 0, spiltMl: volumeOf('spill'), addedMl: volumeOf('refill') },
    suckAtSec: suckAtSec.filter((sec) => !isLost(sec)),
    events: [
      ...teatIn.flatMap(([inSec, outSec]): SensingEvent[] => [
        { kind: 'teat-in', atSec: inSec },
        { kind: 'teat-out', atSec: outSec },
      ]),
      ...pourEvents,
    ],
  };
  const takenBefore = [0];
  for (const ml of mlOfSuck) takenBefore.push(takenBefore.at(-1)! + ml);
  /** Each suck gives its milk evenly over 0.9 s; at most the last two are still in progress. */
  const intakeAt = (sec: number): number => {
    let begun = 0;
    for (let half = 1 << 11; half > 0; half >>= 1) {
      if (begun + half <= suckAtSec.length && suckAtSec[begun + half - 1]! <= sec) begun += half;
    }
    const done = Math.max(0, begun - 2);
    let taken = takenBefore[done]!;
    for (let i = done; i < begun; i++) taken += mlOfSuck[i]! * Math.min(1, (sec - suckAtSec[i]!) / 0.9);
    return taken;
  };
  const rows: FeedRow[] = [];
  for (let step = 0; step * STEP_SEC <= endSec; step++) {
    const atSec = step * STEP_SEC;
    if (isLost(atSec)) continue;
    const intakeMl = intakeAt(atSec);
    const poured = pourEvents
      .filter((pour) => pour.atSec <= atSec)
      .reduce((sum, pour) => sum + (pour.kind === 'refill' ? pour.volumeMl : -pour.volumeMl), 0);
    const now = milkMl - intakeMl + poured;
    const teatInMouth = teatIn.some(([inSec, outSec]) => atSec >= inSec && atSec < outSec);
    refined.atSec.push(atSec);
    refined.milkMl.push(now);
    refined.milkSdMl.push(0.4);
    refined.intakeMl.push(intakeMl);
    refined.flowMlPerMin.push(Math.max(0, 6 * (intakeAt(atSec + 5) - intakeAt(atSec - 5))));
    refined.teatInMouth.push(teatInMouth);
    if (step % 2 > 0) continue;
    const isWeighed = atSec >= 3;
    const liveFlow = 6 * (intakeMl - intakeAt(atSec - 10)) * wobble(0.25);
    rows.push({
      atSec,
      milkMl: isWeighed ? now + wobble(1) * 0.5 : null,
      flowMlPerMin: isWeighed ? liveFlow : null,
      intakeMl,
      teatInMouth,
      tiltDeg: teatInMouth ? 95 : 20,
    });
  }
  refined.totals.intakeMl = refined.intakeMl.at(-1)!;
  const pauseEvents: FeedEvent[] = paused
    ? [
        { kind: 'guidance-paused', atSec: LEAD_SEC + paused[0] * 60 },
        { kind: 'guidance-on', atSec: LEAD_SEC + paused[1] * 60 },
      ]
    : [];
  const sampleZeroAtMs = Date.UTC(2026, 0, 5, 9, 0, 0);
  return {
    id,
    startedAtMs: sampleZeroAtMs + LEAD_SEC * 1000,
    sampleZeroAtMs,
    endedAtMs: sampleZeroAtMs + endSec * 1000,
    state: 'ended',
    endReason: 'button',
    simulated: false,
    sleeveId: 'bench-1',
    setup: {
      babyName: 'Wren',
      babyBirthDate: '2025-11-02',
      bottleName: null,
      milkKind: 'expressed',
      portionMl: milkMl,
      caregiver: 'Juno',
    },
    ...refined.totals,
    durationSec: endSec - LEAD_SEC,
    captureFile: `captures/${id}.cap.gz`,
    calibration: { version: 1, sleeveId: 'bench-1', calibratedAt: '2026-01-02T09:00:00Z' },
    softwareVersion: '0.1.0',
    rows,
    cues: cues.map(({ kind, min }) => ({ kind, atSec: LEAD_SEC + min * 60, because: 'invented' })),
    told: cues.flatMap(({ kind, min }) =>
      (['page', 'light'] as const).map((output) => ({
        shown: kind,
        sinceSec: LEAD_SEC + min * 60,
        atSec: LEAD_SEC + min * 60,
        output,
      })),
    ),
    events: [...refined.events, ...pauseEvents],
    refined,
    ...change,
  };

  function volumeOf(kind: 'spill' | 'refill'): number {
    return pours.filter((pour) => pour.kind === kind).reduce((sum, { volumeMl }) => sum + volumeMl, 0);
  }
}
