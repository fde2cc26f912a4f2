/** `ebbline feeds` and `ebbline feeds graph`: what is kept, and what is said when nothing is. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, onTestFinished, vi } from 'vitest';
import { refinedFromCapture } from '../../src/app/sleeve/recovery.ts';
import { runs } from '../../src/cli/feeds/runs.ts';
import { openStore } from '../../src/store/open-store.ts';
import { readFixture } from '../support/captures.ts';
import { requireBuild, runCommand } from '../support/command.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

beforeAll(requireBuild);

/** One feed that ended, one that was taken back and one that is still open. */
let data = '';
beforeAll(() => {
  data = mkdtempSync(join(tmpdir(), 'ebbline-kept-'));
  const store = openStore(data, { recording: true });
  const { calibration } = readFixture('calm');
  const ids = ['20260105-090003-aaaa', '20260105-120003-bbbb', '20260105-150003-cccc'] as const;
  ids.forEach((id, i) => {
    const startedAtMs = Date.UTC(2026, 0, 5, 9 + 3 * i, 0, 3);
    store.begin(begunFeed(id, { startedAtMs, sampleZeroAtMs: startedAtMs - 3000 }), calibration);
    for (let second = 0; second < 40; second += 1)
      if (i === 0 || second < 2) store.append(id, partOfSecond(second));
  });
  store.finish(ids[0], { endReason: 'page', endedAtMs: Date.UTC(2026, 0, 5, 9, 1), refined: null });
  store.discard(ids[1]);
  store.close();
});
afterAll(() => rmSync(data, { recursive: true, force: true }));

describe('with nothing kept', () => {
  it('feeds says so and where it looked, as a list it is empty', async () => {
    const empty = temporaryFolder();
    const said = await runCommand(['feeds'], { data: empty });
    expect(said).toEqual({
      code: 0,
      stderr: '',
      stdout: `No feeds are kept in ${empty}. For those of the simulated sleeve add --simulated.\n`,
    });
    expect(await runCommand(['feeds', '--json'], { data: empty })).toEqual({
      code: 0,
      stderr: '',
      stdout: '[]\n',
    });
  });

  it('graph refuses and tells what to do', async () => {
    const { code, stdout, stderr } = await runCommand(['feeds', 'graph'], { data: temporaryFolder() });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/^ebbline: No feeds are kept\..*ebbline feeds/);
  });
});

describe('with feeds kept', () => {
  it('lists the newest first, one a line, without those that were taken back', async () => {
    const { stdout } = await runCommand(['feeds'], { data });
    const lines = stdout.trim().split('\n');
    expect(lines.map((line) => line.slice(0, 20))).toEqual(['20260105-150003-cccc', '20260105-090003-aaaa']);
    expect(lines[0]).toMatch(/still open/);
    expect(lines[1]).toMatch(/1\/5\/2026, 9:00:03 AM .*¼ fl oz \(4 mL\) in 1 min {2}1 cue$/);
    const all = JSON.parse((await runCommand(['feeds', '--json', '--discarded'], { data })).stdout);
    expect(all.map(({ id, state }: { id: string; state: string }) => [id.slice(-4), state])).toEqual([
      ['cccc', 'open'],
      ['bbbb', 'discarded'],
      ['aaaa', 'ended'],
    ]);
  });

  it('draws a feed as SVG or PNG, the latest if none is named', async () => {
    const svg = await runCommand(['feeds', 'graph', '20260105-090003-aaaa', '--out', '-'], { data });
    expect({ code: svg.code, stderr: svg.stderr }).toEqual({ code: 0, stderr: '' });
    expect(svg.stdout).toMatch(/^<svg[\s\S]*<\/svg>\s*$/);
    const file = join(data, 'feed.png');
    expect(await runCommand(['feeds', 'graph', '--out', file], { data })).toEqual({
      code: 0,
      stderr: '',
      stdout: `${file}\n`,
    });
    expect([...readFileSync(file).subarray(0, 4)]).toEqual([0x89, 0x50, 0x4e, 0x47]);
  });

  it('leaves a file that is there as it is, unless told', async () => {
    const file = join(data, 'mine.svg');
    writeFileSync(file, 'mine');
    const refused = await runCommand(['feeds', 'graph', '--out', file], { data });
    expect(refused).toMatchObject({ code: 2, stdout: '', stderr: expect.stringContaining('--force') });
    expect(readFileSync(file, 'utf8')).toBe('mine');
    expect((await runCommand(['feeds', 'graph', '--out', file, '--force'], { data })).code).toBe(0);
    expect(readFileSync(file, 'utf8')).toMatch(/^<svg/);
  });

  it('lists them a page at a time, and as JSON all of them or a page', async () => {
    const pages = ['feeds', '--per-page', '1'];
    const first = await runCommand(pages, { data });
    expect(first.stdout).toMatch(/^20260105-150003-cccc .*\nPage 1 of 2; older ones with --page 2\.\n$/);
    const second = await runCommand([...pages, '--page', '2'], { data });
    expect(second.stdout).toMatch(/^20260105-090003-aaaa .*\nPage 2 of 2\.\n$/);
    const third = await runCommand([...pages, '--page', '3'], { data });
    expect(third).toMatchObject({ code: 2, stderr: expect.stringContaining('Pages go from 1 to 2') });
    const ids = async (...more: string[]) =>
      JSON.parse((await runCommand([...pages, '--json', ...more], { data })).stdout).map(
        ({ id }: { id: string }) => id.slice(-4),
      );
    expect(await ids()).toEqual(['cccc', 'aaaa']);
    expect(await ids('--page', '2')).toEqual(['aaaa']);
  });

  it.each<[string, string | undefined, string | undefined, RegExp]>([
    ['feed-unknown', '20260105-000000-zzzz', undefined, /no kept feed 20260105-000000-zzzz.*ebbline feeds/],
    ['file-ending', undefined, 'feed.jpg', /feed\.jpg must end in \.svg, \.png, \.html or \.pdf/],
    ['file-unwritable', undefined, '/dev/null/feed.svg', /\/dev\/null\/feed\.svg cannot be written/],
  ])('refuses to draw (%s), and writes nothing', async (code, feed, out, says) => {
    vi.stubEnv('EBBLINE_DATA', data);
    const stdout = vi.spyOn(process.stdout, 'write').mockReturnValue(true);
    onTestFinished(() => {
      stdout.mockRestore();
      vi.unstubAllEnvs();
    });
    await expect(
      runs['feeds graph']({ language: 'en', unit: 'fl-oz', ...(feed && { feed }), ...(out && { out }) }),
    ).rejects.toMatchObject({
      code,
      text: expect.stringMatching(says),
    });
    expect(stdout).not.toHaveBeenCalled();
  });
});

describe('a feed that was interrupted', () => {
  it('is refined from its capture', () => {
    const { bytes, calibration, truth } = readFixture('poured');
    const store = openStore(temporaryFolder(), { recording: true });
    store.begin(begunFeed('cut'), calibration);
    store.append('cut', { ...partOfSecond(0), bytes: [bytes] });
    const refined = refinedFromCapture(store, 'cut')!;
    expect(Math.abs(refined.totals.intakeMl - truth.intakeSoFarMl.at(-1)!)).toBeLessThan(1.5);
    store.close();
  });

  it('stays as it is when its capture or its calibration is of no use', () => {
    const { bytes, calibration } = readFixture('poured');
    const store = openStore(temporaryFolder(), { recording: true });
    store.begin(begunFeed('noise'), calibration);
    store.append('noise', partOfSecond(0));
    store.begin(begunFeed('odd'), { version: 1 });
    store.append('odd', { ...partOfSecond(0), bytes: [bytes] });
    expect(refinedFromCapture(store, 'noise')).toBeNull();
    expect(refinedFromCapture(store, 'odd')).toBeNull();
    store.close();
  });
});
