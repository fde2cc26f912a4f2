import type { FeedEvent, KeptFeed, Output } from '../../feed/record/feed.ts';
import type { CueKind, ShownCue } from '../../pacing/cues/cue.ts';
import { cueOf, kindOf } from '../../pacing/cues/shown-cues.ts';
import { type FeedPace, paceOfFeed } from '../facts/feed-pace.ts';
import { suckBursts } from '../facts/suck-bursts.ts';

/** A stretch of time, minutes since the first latch. */
export interface Span {
  fromMin: number;
  toMin: number;
}

export interface TracedCue {
  min: number;
  kind: CueKind;
  /** In what words. */
  shown: ShownCue;
  /** Outputs that showed it; null: not known whether it was shown. */
  by: Output[] | null;
  intakeMl: number | null;
}

/** Data of a feed's graph; times in minutes since the first latch, gaps as null. */
export interface FeedTrace {
  /** The pace it ran with. */
  pace: FeedPace;
  /** `refined`: the best estimate after the feed; `live`: what the sleeve knew while it ran. */
  source: 'refined' | 'live';
  intakeMl: Series;
  flowMlPerMin: Series;
  /** Standard deviation of the flow, point by point; null for live data. */
  flowSdMlPerMin: Series | null;
  /** Angle of the bottle's axis from up, degrees; as measured during the feed. */
  tiltDeg: Series;
  teatIn: Span[];
  /** Stretches without known milk: no samples, or no estimate. */
  unknown: Span[];
  /** Runs of sucks; null where sucks were not kept (live). */
  bursts: (Span & { suckCount: number })[] | null;
  /** When each suck began; null where sucks were not kept. */
  suckAtMin: number[] | null;
  /** Cues that were shown; if that is not known, all that the rules raised. */
  cues: TracedCue[];
  /** `bottle`: the bottle was out of the sleeve and came back with more or (negative) less milk. */
  pours: { min: number; kind: 'spill' | 'refill' | 'bottle'; volumeMl: number }[];
  guidancePaused: Span[];
  /** Times of burps entered on the page. */
  burpedAtMin: number[];
  /** Time from the first latch to the last end of a latch, or to now. */
  lengthMin: number;
  /** Standard deviation of the milk as stated by the estimate, median over the feed, mL; null when unknown. */
  milkSdMl: number | null;
  /** The same of the flow, mL/min. */
  flowSdMedianMlPerMin: number | null;
  /** Milk that left the bottle by its marks, mL, read before and after; null if not read. */
  readMl: number | null;
}

export type Series = { min: number; amount: number | null }[];

/** Rows come twice a second; a longer step than this is a gap, s. */
const GAP_SEC = 2;

/** The columns of the refined or of the live estimate. */
interface Columns {
  atSec: readonly number[];
  milkMl: readonly (number | null)[];
  flowMlPerMin: readonly (number | null)[];
  intakeMl: readonly number[];
  teatInMouth: readonly boolean[];
}

/** The trace of a stored feed: from the refined pass if there is one, else from the live rows. Pure. */
export function feedTrace(feed: KeptFeed): FeedTrace {
  const columns = feed.refined ?? columnsOfRows(feed);
  const startSec = firstLatchSec(feed, columns);
  const minuteOf = (atSec: number): number => (atSec - startSec) / 60;
  const known = columns.milkMl.map((milkMl) => milkMl !== null);
  const teatIn = runs(columns, (i) => columns.teatInMouth[i]!, minuteOf);
  const unknown = unknownSpans(columns, known, minuteOf);
  const nowMin = minuteOf(columns.atSec.at(-1) ?? startSec);
  const events = eventsOf(feed);
  const flowSd = feed.refined?.flowSdMlPerMin;
  const reading = feed.corrected?.reading;
  const intakeMl = series(columns, (i) => (known[i] ? columns.intakeMl[i]! : null), minuteOf);
  return {
    pace: paceOfFeed(feed),
    source: feed.refined ? 'refined' : 'live',
    intakeMl,
    flowMlPerMin: series(columns, (i) => (known[i] ? columns.flowMlPerMin[i]! : null), minuteOf),
    flowSdMlPerMin: flowSd ? series(columns, (i) => flowSd[i] ?? null, minuteOf) : null,
    tiltDeg: tiltSeries(feed, minuteOf),
    teatIn,
    unknown,
    bursts: feed.refined ? suckBursts(feed.refined.suckAtSec, minuteOf) : null,
    suckAtMin: feed.refined?.suckAtSec.map(minuteOf).filter((min) => min >= 0) ?? null,
    cues: toldCues(feed).map(({ atSec, ...cue }) => ({
      ...cue,
      min: minuteOf(atSec),
      intakeMl: amountAt(intakeMl, minuteOf(atSec)),
    })),
    pours: events.flatMap((event) =>
      event.kind === 'spill' || event.kind === 'refill'
        ? [{ min: minuteOf(event.atSec), ...pourOf(event) }]
        : [],
    ),
    burpedAtMin: events.flatMap(({ kind, atSec }) => (kind === 'burped' ? [minuteOf(atSec)] : [])),
    guidancePaused: pausedSpans(events, minuteOf, nowMin),
    lengthMin: feed.state === 'open' ? nowMin : (teatIn.at(-1)?.toMin ?? feed.durationSec / 60),
    milkSdMl: median(feed.refined?.milkSdMl ?? []),
    flowSdMedianMlPerMin: median(flowSd ?? []),
    readMl: reading && reading.offeredMl !== null ? Math.max(0, reading.offeredMl - reading.leftMl) : null,
  };
}

function pourOf({
  kind,
  volumeMl,
  bottleWasOut,
}: Extract<FeedEvent, { kind: 'spill' | 'refill' }>): Omit<FeedTrace['pours'][number], 'min'> {
  if (!bottleWasOut) return { kind, volumeMl };
  return { kind: 'bottle', volumeMl: kind === 'refill' ? volumeMl : -volumeMl };
}

/** One entry for each time a cue was shown, by any output. */
function toldCues({
  told,
  cues,
}: KeptFeed): (Pick<TracedCue, 'kind' | 'shown' | 'by'> & { atSec: number })[] {
  if (!told) return cues.map(({ atSec, kind }) => ({ atSec, kind, shown: kind, by: null }));
  const shown = new Map<number, { atSec: number; kind: CueKind; shown: ShownCue; by: Output[] }>();
  for (const { sinceSec, shown: words, output } of told) {
    // An export of a newer version may contain unknown cues.
    if (!cueOf(words)) continue;
    const before = shown.get(sinceSec);
    if (before) before.by.push(output);
    else shown.set(sinceSec, { atSec: sinceSec, kind: kindOf(words), shown: words, by: [output] });
  }
  return [...shown.values()];
}

/** The angle is only in the live rows; it is null in gaps. */
function tiltSeries({ rows }: KeptFeed, minuteOf: (atSec: number) => number): Series {
  const atSec = rows.map((row) => row.atSec);
  return series({ atSec }, (i) => rows[i]!.tiltDeg, minuteOf);
}

/** @returns intake at a minute, mL; null in a gap or before the first estimate */
export const intakeAt = (trace: FeedTrace, min: number): number | null => amountAt(trace.intakeMl, min);

function amountAt(points: Series, min: number): number | null {
  return points.findLast((point) => point.min <= min)?.amount ?? null;
}

function median(amounts: readonly (number | null)[]): number | null {
  const known = amounts.filter((amount) => amount !== null).sort((a, b) => a - b);
  return known[Math.floor(known.length / 2)] ?? null;
}

function columnsOfRows({ rows }: KeptFeed): Columns {
  return {
    atSec: rows.map(({ atSec }) => atSec),
    milkMl: rows.map(({ milkMl }) => milkMl),
    flowMlPerMin: rows.map(({ flowMlPerMin }) => flowMlPerMin),
    intakeMl: rows.map(({ intakeMl }) => intakeMl),
    teatInMouth: rows.map(({ teatInMouth }) => teatInMouth),
  };
}

/** A feed opens at its first latch; if no row shows it, the host's clock is used. */
function firstLatchSec(feed: KeptFeed, { atSec, teatInMouth }: Columns): number {
  const first = teatInMouth.indexOf(true);
  return first >= 0 ? atSec[first]! : Math.max(0, (feed.startedAtMs - feed.sampleZeroAtMs) / 1000);
}

/** Events found by sensing are taken from the refined pass; all others exist only in the live feed. */
function eventsOf({ events, refined }: KeptFeed): FeedEvent[] {
  if (!refined) return events;
  const liveOnly = events.filter(({ kind }) => /^(link|guidance)-|^burped$/.test(kind));
  return [...refined.events, ...liveOnly].sort((a, b) => a.atSec - b.atSec);
}

function series(
  { atSec }: Pick<Columns, 'atSec'>,
  amountAt: (i: number) => number | null,
  minuteOf: (atSec: number) => number,
): Series {
  const points: Series = [];
  for (let i = 0; i < atSec.length; i++) {
    if (i > 0 && atSec[i]! - atSec[i - 1]! > GAP_SEC) {
      points.push({ min: minuteOf((atSec[i]! + atSec[i - 1]!) / 2), amount: null });
    }
    points.push({ min: minuteOf(atSec[i]!), amount: amountAt(i) });
  }
  return points.filter(({ min }) => min >= 0);
}

/** Stretches in which `isOn` holds, each to the first row after it; a gap in the rows ends one. */
function runs({ atSec }: Columns, isOn: (i: number) => boolean, minuteOf: (atSec: number) => number): Span[] {
  const spans: Span[] = [];
  let from: number | null = null;
  const end = (at: number) => {
    if (from !== null) spans.push({ fromMin: minuteOf(from), toMin: minuteOf(at) });
    from = null;
  };
  for (let i = 0; i < atSec.length; i++) {
    if (i > 0 && atSec[i]! - atSec[i - 1]! > GAP_SEC) end(atSec[i - 1]!);
    if (!isOn(i)) end(atSec[i]!);
    else from ??= atSec[i]!;
  }
  if (atSec.length > 0) end(atSec.at(-1)!);
  return spans;
}

function unknownSpans(columns: Columns, known: boolean[], minuteOf: (atSec: number) => number): Span[] {
  const { atSec } = columns;
  const holes = atSec.flatMap((at, i) =>
    i > 0 && at - atSec[i - 1]! > GAP_SEC ? [{ fromMin: minuteOf(atSec[i - 1]!), toMin: minuteOf(at) }] : [],
  );
  const spans = [...runs(columns, (i) => !known[i], minuteOf), ...holes].sort(
    (a, b) => a.fromMin - b.fromMin,
  );
  return joined(spans).filter(({ fromMin, toMin }) => toMin > 0 && (toMin - fromMin) * 60 >= GAP_SEC);
}

/** Spans that touch or overlap become one; nothing begins before the first latch. */
function joined(spans: Span[]): Span[] {
  const out: Span[] = [];
  for (const { fromMin, toMin } of spans) {
    const last = out.at(-1);
    if (last && fromMin <= last.toMin) last.toMin = Math.max(last.toMin, toMin);
    else out.push({ fromMin: Math.max(0, fromMin), toMin });
  }
  return out;
}

function pausedSpans(events: FeedEvent[], minuteOf: (atSec: number) => number, nowMin: number): Span[] {
  const spans: Span[] = [];
  let fromMin: number | null = null;
  for (const { kind, atSec } of events) {
    if (kind === 'guidance-paused' || kind === 'cues-withheld') fromMin ??= minuteOf(atSec);
    if ((kind === 'guidance-on' || kind === 'cues-shown') && fromMin !== null) {
      spans.push({ fromMin, toMin: minuteOf(atSec) });
      fromMin = null;
    }
  }
  return fromMin === null ? spans : [...spans, { fromMin, toMin: nowMin }];
}
