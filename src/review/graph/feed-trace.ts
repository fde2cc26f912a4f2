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
  /** By which outputs; null: not known whether anybody was told. */
  by: Output[] | null;
  intakeMl: number | null;
}

/** What a session graph draws; times in minutes since the first latch, gaps as null. */
export interface FeedTrace {
  /** What it ran with. */
  pace: FeedPace;
  /** `refined`: the best estimate after the feed; `live`: what the sleeve knew while it ran. */
  source: 'refined' | 'live';
  intakeMl: Series;
  flowMlPerMin: Series;
  /** Standard deviation of the flow, point by point; null where it was not kept (live). */
  flowSdMlPerMin: Series | null;
  /** Angle of the bottle's axis from up, degrees; as the sleeve saw it while it ran. */
  tiltDeg: Series;
  teatIn: Span[];
  /** Stretches in which the milk was not known: no samples, or no estimate. */
  unknown: Span[];
  /** Runs of sucks; null where sucks were not kept (live). */
  bursts: (Span & { suckCount: number })[] | null;
  /** When each suck began; null where sucks were not kept. */
  suckAtMin: number[] | null;
  /** Cues that somebody was told of; where that is not known, what the rules found. */
  cues: TracedCue[];
  /** `bottle`: the sleeve held none meanwhile, and then more or less milk; below zero is less. */
  pours: { min: number; kind: 'spill' | 'refill' | 'bottle'; volumeMl: number }[];
  guidancePaused: Span[];
  /** When somebody noted a burp on the page. */
  burpedAtMin: number[];
  /** From the first latch to the last time the teat left the mouth, or to now. */
  lengthMin: number;
  /** Standard deviation of the milk by the estimate's own account, median over the feed, mL; null when unknown. */
  milkSdMl: number | null;
  /** The same of the flow, mL/min. */
  flowSdMedianMlPerMin: number | null;
  /** What left the bottle by the marks on it, mL, as somebody read it before and after; null where nobody did. */
  readMl: number | null;
}

export type Series = { min: number; amount: number | null }[];

/** Rows come twice a second; a longer step than this is a gap, s. */
const GAP_SEC = 2;

/** The estimate's columns, whichever there are. */
interface Columns {
  atSec: readonly number[];
  milkMl: readonly (number | null)[];
  flowMlPerMin: readonly (number | null)[];
  intakeMl: readonly number[];
  teatInMouth: readonly boolean[];
}

/** A kept feed as a session graph sees it: refined where it was refined, the live rows otherwise. Pure. */
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

/** One entry for each time that a cue was shown, whatever told of it. */
function toldCues({
  told,
  cues,
}: KeptFeed): (Pick<TracedCue, 'kind' | 'shown' | 'by'> & { atSec: number })[] {
  if (!told) return cues.map(({ atSec, kind }) => ({ atSec, kind, shown: kind, by: null }));
  const shown = new Map<number, { atSec: number; kind: CueKind; shown: ShownCue; by: Output[] }>();
  for (const { sinceSec, shown: words, output } of told) {
    // An export of a newer version may hold cues that are not known here.
    if (!cueOf(words)) continue;
    const before = shown.get(sinceSec);
    if (before) before.by.push(output);
    else shown.set(sinceSec, { atSec: sinceSec, kind: kindOf(words), shown: words, by: [output] });
  }
  return [...shown.values()];
}

/** The refined pass says nothing of the angle; rows of a gap are missing, and so is the angle. */
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

/** A feed opens at its first latch; the host's clock tells when that was if no row does. */
function firstLatchSec(feed: KeptFeed, { atSec, teatInMouth }: Columns): number {
  const first = teatInMouth.indexOf(true);
  return first >= 0 ? atSec[first]! : Math.max(0, (feed.startedAtMs - feed.sampleZeroAtMs) / 1000);
}

/** What sensing found is better known after the refined pass; the rest of the events only the live feed knows. */
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
