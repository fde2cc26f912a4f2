/** A store with data of every kind. All babies are invented. */
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { FAMILY_GUIDANCE } from '../../src/pacing/guidance.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { babyEntry } from './babies.ts';
import { begunFeed, partOfSecond, refinedSample } from './store-samples.ts';
import { streamOf } from './wire.ts';

export const NOW_MS = Date.UTC(2026, 0, 9, 12);
const MINUTE_MS = 60_000;
const DAY_MS = 24 * 60 * MINUTE_MS;

/** Two babies (one of them entered), three ended feeds and one taken back, corrections, feeds by hand, a milk ledger, a calibration, settings. */
export function fillStore(store: FeedStore): void {
  const { setup } = begunFeed('x');
  const wren = store.addBaby(babyEntry({ birthDate: '2025-11-02' }));
  const feed = (id: string, daysBefore: number, babyName: string, seconds: number, more = {}) => {
    const startedAtMs = NOW_MS - daysBefore * DAY_MS;
    const summary = begunFeed(id, {
      startedAtMs,
      sampleZeroAtMs: startedAtMs - 3000,
      setup: { ...setup, babyName, ...more },
      ...(id === 'd' && { ran: { profile: SHIPPED_PROFILE, guidance: FAMILY_GUIDANCE } }),
    });
    store.begin(summary, { version: 1, sleeveId: 'bench-1' });
    for (let second = 0; second < seconds; second++) {
      store.append(id, { ...partOfSecond(second), bytes: [streamOf(second * 80, 80)] });
    }
    store.finish(id, {
      endReason: 'button',
      endedAtMs: startedAtMs + seconds * 1000,
      refined: id === 'a' ? refinedSample() : null,
    });
  };
  feed('a', 4, 'Wren', 40);
  feed('b', 3, 'Linnet', 35);
  feed('c', 2, 'Wren', 5);
  feed('d', 1, 'Wren', 2, { babyId: wren.id, teatName: 'Wide', teatFlow: 'slow' });
  store.discard('c');
  store.correct('a', { kind: 'bottle-reading', offeredMl: 90, leftMl: 12.5 }, 'J.');
  store.correct('a', { kind: 'note', text: '=sleepy, "warm"\nrain' });
  store.correct('b', { kind: 'after', step: 'comfort-suck', done: true });
  store.correct('b', { kind: 'setup', setup: { bottleName: 'red cap' } });
  store.correct('d', {
    kind: 'times',
    startedAtMs: NOW_MS - 1.5 * DAY_MS,
    endedAtMs: NOW_MS - 1.5 * DAY_MS + 2000,
  });
  const hand = store.addHandFeed({
    kind: 'bottle',
    atMs: NOW_MS - 5 * 60 * MINUTE_MS,
    durationSec: 900,
    offeredMl: 60,
    leftMl: 5,
    milkKind: 'expressed',
    side: null,
    caregiver: 'M.',
    note: '-',
    babyId: null,
    babyName: 'Wren',
  });
  store.correctHandFeed(hand.id, { kind: 'entry', entry: { leftMl: 7 } }, 'M.');
  const wrong = store.addHandFeed({
    ...hand.original,
    atMs: NOW_MS - 3 * 60 * MINUTE_MS,
    babyName: 'Linnet',
  });
  store.correctHandFeed(wrong.id, { kind: 'withdrawn' });
  store.appendMilkEvents([
    milk('got', 'bag 1', { ml: 90, kind: 'expressed', place: 'fridge' }),
    milk('got', 'bag 1b', { ml: 91, kind: 'expressed', place: 'fridge' }),
    milk('taken-back', null, { no: 2 }),
    milk('discarded', 'bag 1', {}),
  ]);
  store.keepCalibration('bench-1', { version: 1, calibratedAt: 'first' });
  store.keepCalibration('bench-1', { version: 1, calibratedAt: 'second' });
  store.keepCalibration('bench-1', { version: 1, calibratedAt: 'first' });
  store.writeSetup({ ...setup, portionMl: 95 });
  store.writePacking({ call: 'Juno' });
  store.writeSoundOn(true);
  store.writeDimmed(true);
}

const milk = (kind: string, container: string | null, more: object) => ({
  atMs: NOW_MS - DAY_MS,
  babyId: null,
  container,
  kind,
  entry: { what: kind, atMs: NOW_MS - DAY_MS, ...(container && { id: container }), ...more },
});

let made: string | null = null;
// Removed with the process, not with the test file: several files may share both.
process.on('exit', () => {
  if (made !== null) rmSync(made, { recursive: true, force: true });
});

/** Fills `folder` with such a store, closed. It is recorded once and then copied. */
export function fullFolder(folder: string): string {
  if (made === null) {
    made = mkdtempSync(join(tmpdir(), 'ebbline-full-'));
    const store = openStore(made, { recording: true, softwareVersion: '0.1.0', nowMs: () => NOW_MS });
    fillStore(store);
    store.close();
  }
  cpSync(made, folder, { recursive: true });
  return folder;
}
