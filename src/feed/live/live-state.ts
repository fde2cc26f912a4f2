/** The state of the live feed between two inputs, and the view of it that is sent to the page. */

import type { LinkState } from '../../../firmware-bridge/links/link.ts';
import { isEndNear, shownPercent } from '../../base/battery-gauge.ts';
import { kindOf } from '../../pacing/cues/shown-cues.ts';
import type { QualityReason } from '../../sensing/moment.ts';
import { frameCounts } from '../engine.ts';
import { lossText } from '../record/held.ts';
import { elapsedSecOf } from '../recording/ending.ts';
import { createRecorder, type Recorder, type RecorderOptions } from '../recording/recorder.ts';
import { type Hearing, hearingFrom, keepsUp } from './hearing.ts';
import type { Light } from './light-language.ts';
import type { LinkCause, LiveView, NoticeKind } from './live-view.ts';
import { SHOWING_START, type ShowingStep } from './showing.ts';
import { SOUNDING_START, type SoundingStep } from './sounding.ts';
import { TELLING_START, type TellingStep } from './telling-of-cues.ts';

/** Of the link only its name is used. */
export interface ViewOptions {
  simulated: boolean;
  link: { readonly label: string };
  /** Sound is off until somebody turns it on. */
  soundOn?: boolean;
  dimmed?: boolean;
}

export interface LiveState {
  readonly recorder: Recorder;
  link: LinkState;
  show: ShowingStep;
  accepted: number;
  hearing: Hearing;
  muted: boolean;
  dimmed: boolean;
  /** Scheduler time at which the caregiver turned cues off; null while they are on. */
  guidanceOffAtMs: number | null;
  light: Light | null;
  sounding: SoundingStep;
  telling: TellingStep;
  /** Scheduler time at which the open feed last had the teat in the mouth. */
  teatAtMs: number;
  /** Scheduler time at which the open feed was opened. */
  openedAtMs: number;
  /** Scheduler time at which data was last written to the storage, and the sleeve's time in the feed then. */
  keptAtMs: number;
  keptAtSec: number;
  /** Scheduler time at which the settings of the next feed were last asked for, and at which the view was last sent. */
  guidedAtMs: number;
  viewedAtMs: number;
  /** Scheduler time at which somebody asked which sleeve this is. */
  askedWhichAtMs: number;
}

export function createLiveState(
  options: RecorderOptions & Pick<ViewOptions, 'soundOn' | 'dimmed'>,
  nowMs: number,
  recorder: Recorder = createRecorder(options),
): LiveState {
  return {
    recorder,
    link: { kind: 'opening' },
    show: { ...SHOWING_START, sinceMs: nowMs, troubleMs: nowMs },
    accepted: recorder.accepted,
    hearing: hearingFrom(nowMs),
    muted: !options.soundOn,
    dimmed: options.dimmed ?? false,
    guidanceOffAtMs: null,
    light: null,
    sounding: SOUNDING_START,
    telling: TELLING_START,
    teatAtMs: nowMs,
    openedAtMs: nowMs,
    keptAtMs: nowMs,
    keptAtSec: 0,
    guidedAtMs: nowMs,
    viewedAtMs: nowMs,
    askedWhichAtMs: Number.NEGATIVE_INFINITY,
  };
}

/** One complete view. It never shows a number from before the samples stopped, or one that is in doubt. */
export function viewOf(state: LiveState, options: ViewOptions): LiveView {
  const { recorder, show } = state;
  const { feed, lastFeed } = recorder;
  const tick = recorder.lastTick;
  const shown = show.showing !== 'no-guidance' && show.showing !== 'cannot-tell';
  const moment = shown ? tick?.moment : undefined;
  const counts = frameCounts(feed?.engine ?? recorder.watcher);
  return {
    showing: show.showing,
    because: becauseOf(state),
    feedId: feed?.held.summary.id ?? lastFeed?.id ?? null,
    feedState: feed ? 'open' : (lastFeed?.state ?? 'none'),
    feedElapsedSec: elapsedSecOf(recorder),
    teatInMouth: moment?.teatInMouth ?? false,
    aheadOfPace: feed && shown && !feed.withheld ? (tick?.aheadOfPace ?? null) : null,
    muted: state.muted,
    dimmed: state.dimmed,
    guidanceOff: state.guidanceOffAtMs !== null,
    simulated: options.simulated,
    batteryPercent: shownPercent((feed?.engine ?? recorder.watcher).gauge),
    linkLabel: options.link.label,
    qualityReason: tick?.moment.reason ?? null,
    ...noticeOf(recorder),
    cause: causeOf(state),
    ...(recorder.unkept.length > 0 && { unkept: recorder.unkept.map(({ summary }) => summary.id) }),
    notices: noticesOf(recorder),
    ...faultsOf(recorder),
    setup: recorder.setup,
    ...(feed?.caregiverNow !== undefined && { caregiverNow: feed.caregiverNow }),
    numbers: {
      milkMl: moment?.milkMl ?? null,
      flowMlPerMin: moment?.flowMlPerMin ?? null,
      intakeMl: moment?.intakeMl ?? null,
      tiltDeg: moment?.tiltDeg ?? null,
      accepted: counts.accepted,
      rejected: counts.rejected,
      missing: counts.missing,
    },
  };
}

/** Trouble with disk or settings, in English and as codes for other languages. */
function noticeOf({ pending, guideTrouble, lastHeld }: Recorder): Pick<LiveView, 'notice' | 'noticeCodes'> {
  const loss = lastHeld && lossText(lastHeld);
  const all = [pending.trouble ?? guideTrouble, loss ? { code: 'raw-lost', text: loss } : null].filter(
    (one) => one !== null,
  );
  if (all.length === 0) return { notice: null };
  return { notice: all.map(({ text }) => text).join(' '), noticeCodes: all.map(({ code }) => code) };
}

/** A load cell that fails for this long is reported; a knock is shorter. Own choice, no source. */
const CELL_TOLD_SEC = 5;

function noticesOf({ feed, watcher, guided }: Recorder): NoticeKind[] {
  const { supplyLow, gauge, sensor } = feed?.engine ?? watcher;
  return [
    ...(supplyLow ? (['battery-low'] as const) : isEndNear(gauge) ? (['battery-soon'] as const) : []),
    ...guided.notices,
    ...(sensor.turnCheck.told.size > 0 || sensor.awaySec.cell >= CELL_TOLD_SEC
      ? (['check-sleeve'] as const)
      : []),
  ];
}

function faultsOf({ feed, watcher }: Recorder): Pick<LiveView, 'sensorFaults'> {
  const { told } = (feed?.engine ?? watcher).sensor.turnCheck;
  return told.size > 0 ? { sensorFaults: [...told] } : {};
}

function causeOf({ link, hearing, show }: LiveState): LinkCause | null {
  if (show.showing !== 'no-guidance') return null;
  if (link.kind === 'lost') return link.trouble ?? 'lost';
  if (link.kind === 'ended') return 'ended';
  return keepsUp(hearing) ? 'silent' : 'too-busy';
}

function becauseOf(state: LiveState): LiveView['because'] {
  switch (state.show.showing) {
    case 'no-guidance':
      if (state.link.kind === 'lost') return state.link.reason;
      if (state.link.kind === 'ended') return 'The sleeve has sent all it had.';
      if (!keepsUp(state.hearing)) return 'This computer is too busy to keep up. Close other programs.';
      return 'No measurements come from the sleeve. Check that it is on and near.';
    case 'cannot-tell': {
      const reason = state.recorder.lastTick?.moment.reason;
      return reason ? DOUBTS[reason] : null;
    }
    case 'gentle':
    case 'held-steeply':
    case 'guidance-off':
    case 'cues-withheld':
    case 'waiting':
      return null;
    default:
      return state.recorder.because[kindOf(state.show.showing)] ?? null;
  }
}

/** What is wrong while the estimate may not be used, and what to do. */
const DOUBTS: Record<QualityReason, string> = {
  'not-weighed': 'The milk has not been weighed yet: nipple out, bottle still for a moment.',
  'no-bottle': 'There is no bottle in the sleeve.',
  roll: 'The bottle is turned too far in the hand: bring the grip underneath.',
  cell: 'A load cell gives nothing. If it stays so, switch the sleeve off and on again.',
  accelerometer: 'The tilt cannot be read. If it stays so, switch the sleeve off and on again.',
  motion: 'The bottle is moved too much.',
  sucks: 'Sucks cannot be made out: the flow is known by weight alone, and late.',
  push: 'Something presses on the bottle, or the nipple sits askew: hold it by the sleeve only.',
  gap: 'Some readings were lost: in the next pause, nipple out, bottle still for a moment.',
};
