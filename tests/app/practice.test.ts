import { BehaviorSubject } from 'rxjs';
import { expect, it } from 'vitest';
import { calibrationsBeside, describeTechnique, markedPractice } from '../../src/app/practice/practice.ts';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import { openStore } from '../../src/store/open-store.ts';
import { viewOf } from '../support/fake-live.ts';
import { keptFeed } from '../support/kept-feeds.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

it('knows the calibrations of real feeds, and keeps a new one with practice alone', () => {
  const [home, practice] = [temporaryFolder(), temporaryFolder()];
  const real = openStore(home, { recording: true });
  real.keepCalibration('4711', { sleeveId: 'bench-1' });
  real.close();
  const store = openStore(practice, { recording: true });
  const known = calibrationsBeside(home, store);
  expect(known.calibrationFor('4711')).toEqual({ sleeveId: 'bench-1' });
  known.keepCalibration('4711', { sleeveId: 'doll' });
  expect(known.calibrationFor('4711')).toEqual({ sleeveId: 'doll' });
  store.close();
  const after = openStore(home);
  expect(after.calibrationFor('4711')).toEqual({ sleeveId: 'bench-1' });
  after.close();
});

it('marks every view', () => {
  const views: LiveView[] = [];
  const commands: unknown[] = [];
  const live = markedPractice({
    view$: new BehaviorSubject(viewOf()),
    command: (command) => void commands.push(command),
    stop: () => {},
    changeSleeve: () => {},
    keepRest: () => true,
  });
  live.view$.subscribe((view) => views.push(view));
  live.command({ kind: 'burped' });
  expect(views).toEqual([{ ...viewOf(), practice: true }]);
  expect(commands).toEqual([{ kind: 'burped' }]);
});

it('says how a kept feed was given, and takes a burp said on the page', () => {
  const rows = Array.from({ length: 240 }, (_, row) => ({
    atSec: row / 2,
    milkMl: null,
    flowMlPerMin: null,
    intakeMl: 0,
    teatInMouth: true,
    tiltDeg: 95,
  }));
  const feed = keptFeed({ rows, events: [{ kind: 'burped', atSec: 60 }] });
  expect(describeTechnique(feed).en!.join(' ')).toContain('Burps: 1.');
  expect(describeTechnique(feed).es!.join(' ')).toContain('Eructos: 1.');
  expect(describeTechnique(keptFeed({ rows: [], events: [] }))).toEqual({});
});
