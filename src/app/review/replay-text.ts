/** Result of a replay in words for a terminal. */
import { volumeText } from '../../base/units.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { ReplayResult } from '../../feed/replay.ts';
import { becauseText } from '../../pacing/index.ts';
import type { SensorFault } from '../../sensing/index.ts';
import type { Again } from './feed-again.ts';

const clock = (sec: number): string =>
  `${Math.floor(sec / 60)}:${Math.floor(sec % 60)
    .toString()
    .padStart(2, '0')}`;

/** Texts about sensor faults. */
const FAULTS: Record<SensorFault, string> = {
  'gyroscope-stuck': 'The gyroscope says the same all the time. The feed goes on without it.',
  'gyroscope-saturated': 'The gyroscope is at its limit. The feed goes on without it.',
  'gyroscope-disagrees':
    'The gyroscope shows other turns than the tilt does: see which way its chip lies, and calibrate again. The feed goes on without it.',
  'accelerometer-place':
    'The accelerometer does not sit where the calibration says: see positionMm. The feed goes on without the gyroscope.',
  'motion-alone':
    'Turnings come without the samples that they belong to: see firmware and line. They are left out, and the feed goes on.',
  'late-cells':
    'The cells answer much later than usual: see the rate of their converters. That is taken into account.',
};

/** The result for people. */
export function replayText(result: ReplayResult): string {
  const { frames } = result;
  const lines = [
    `${volumeText(result.intakeMl)} taken in ${clock(result.durationSec)} min.`,
    `Spilled ${volumeText(result.spiltMl)}, poured in ${volumeText(result.addedMl)}.`,
    `${frames.accepted} samples, ${frames.rejected} broken, ${frames.missing} missing, ${frames.duplicates} repeated.`,
    ...result.events.flatMap((event) =>
      event.kind === 'sensor-fault' ? [`${clock(event.atSec).padStart(6)}  ${FAULTS[event.fault]}`] : [],
    ),
    ...result.cues.map(
      (cue) => `${clock(cue.atSec).padStart(6)}  ${cue.kind}  ${becauseText(cue.because, 'en')}`,
    ),
  ];
  return lines.join('\n');
}

export function againText({ result, sameCues, keptCues, profile, softwareVersion }: Again): string {
  const ran = `Recorded by version ${softwareVersion}, pace profile "${profile}".`;
  const same = sameCues
    ? `The same ${keptCues.length} cues as then.`
    : `Not the same cues: ${keptCues.length} then, ${result.cues.length} now, by version ${SOFTWARE_VERSION}.`;
  return [ran, same, replayText(result)].join('\n');
}
