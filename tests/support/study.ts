/** A study in a folder of its own, with feeds from the fixtures. */
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { createCrew } from '../../src/app/study/crew/crew.ts';
import { StudyFolder } from '../../src/app/study/study-folder.ts';
import { openStore } from '../../src/store/open-store.ts';
import { sideFilesIn } from '../../src/store/side-files.ts';
import { readFixture } from './captures.ts';
import { recordFeed } from './recorded-feed.ts';
import { temporaryFolder } from './temporary-folder.ts';

export const START_MS = Date.UTC(2026, 0, 5, 9);
/** 80 samples of 31 bytes. */
export const SECOND_BYTES = 80 * 31;
export const PROTOCOL = {
  version: 1,
  code: 'pace-1',
  title: 'Cues shown or withheld',
  arms: [
    { code: 'shown', cues: 'on' },
    { code: 'withheld', cues: 'logged' },
  ],
  allocation: { blockSizes: [2], strata: ['all'] },
  withholding: { adultsConsent: true, healthyTermBabies: true, ethicsApproval: 'example 12/2026' },
  calibrationMostDays: 3650,
  goodRowsLeast: 0,
};

/** Computes in the test's own thread. */
export const ALONE = createCrew({ hands: 0 });

/** Feed `one` is stored already. @param seconds of its capture, at most 90 */
export function studyHere(protocol: object = {}, seconds = 90) {
  const folder = temporaryFolder();
  const store = openStore(join(folder, 'data'), {
    recording: true,
    softwareVersion: '1.2.3',
    nowMs: () => START_MS + 3600_000,
  });
  onTestFinished(() => store.close());
  const { bytes: whole, calibration } = readFixture('calm');
  const bytes = whole.subarray(0, seconds * SECOND_BYTES);
  recordFeed(store, { id: 'one', bytes, calibration, startMs: START_MS });
  const studies = sideFilesIn(join(folder, 'studies'));
  let at = START_MS;
  const clock = { nowMs: () => at++, drawSeed: () => 1234 };
  const study = StudyFolder.begin(studies, { ...PROTOCOL, ...protocol }, clock);
  return { folder, store, study, studies, clock, bytes, calibration };
}
