/** One zone for all days and times, kept with the family's settings. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { chooseZone, familySurroundings, familyZone, takeZoneOf } from '../../src/app/kept/family-zone.ts';
import { reviewService } from '../../src/app/review/review-service.ts';
import { runs } from '../../src/cli/data/runs.ts';
import { gentleFeed } from '../support/graph-feeds.ts';
import { storeOf } from '../support/review-store.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const storeIn = (folder: string) => {
  const store = storeOf(folder, [gentleFeed()]);
  onTestFinished(() => store.close());
  return store;
};

describe('the family’s zone', () => {
  it('is the machine’s until somebody chooses; a machine that nobody told where it stands asks', () => {
    const store = storeIn(temporaryFolder());
    expect(familyZone(store, 'America/Denver')).toEqual({
      zone: 'America/Denver',
      isChosen: false,
      asks: false,
    });
    for (const nowhere of ['UTC', 'Etc/UTC', 'GMT', 'Etc/GMT+0'])
      expect(familyZone(store, nowhere).asks, nowhere).toBe(true);
    // Some names with UTC or an offset in them are those of real places.
    for (const somewhere of ['Africa/Abidjan', 'Europe/London', 'Etc/GMT+5'])
      expect(familyZone(store, somewhere).asks, somewhere).toBe(false);
  });

  it('once chosen it holds whatever the machine says, UTC too', () => {
    const store = storeIn(temporaryFolder());
    expect(chooseZone(store, ' America/Chicago ')).toEqual({
      zone: 'America/Chicago',
      isChosen: true,
      asks: false,
    });
    expect(familyZone(store, 'Etc/UTC').zone).toBe('America/Chicago');
    expect(chooseZone(store, 'UTC')).toEqual({ zone: 'UTC', isChosen: true, asks: false });
  });

  it.each(['America/Nowhere', '', 7, null])('%j is none, and the one before stays', (zone) => {
    const store = storeIn(temporaryFolder());
    chooseZone(store, 'America/Chicago');
    expect(() => chooseZone(store, zone)).toThrow(
      expect.objectContaining({ code: 'zone-unknown', field: 'zone' }),
    );
    expect(familyZone(store).zone).toBe('America/Chicago');
  });

  it('is that of heading, day and graph alike, from the moment it is chosen', () => {
    const store = storeIn(temporaryFolder());
    const service = reviewService(store, familySurroundings(store));
    const { id } = gentleFeed();
    // 09:00:20 UTC on January 5; Chicago is six hours behind, Auckland thirteen ahead (IANA time zone database).
    service.setZone({ zone: 'America/Chicago' });
    expect(service.told(id, {}).told.when).toBe('Mon, Jan 5, 2026, 3:00 AM');
    expect(service.day({ day: '2026-01-05', baby: 'Wren' }).told.feeds[0]!.time).toBe('3:00 AM');
    service.setZone({ zone: 'Pacific/Auckland' });
    expect(service.told(id, {})).toMatchObject({
      zone: 'Pacific/Auckland',
      told: { when: 'Mon, Jan 5, 2026, 10:00 PM' },
    });
    expect(service.find({}).zone).toBe('Pacific/Auckland');
    expect(service.day({ baby: 'Wren' }).zone).toBe('Pacific/Auckland');
  });

  it('is that of simulated and practice feeds too, unless another was chosen for them', async () => {
    const folder = temporaryFolder();
    storeOf(folder, []).close();
    const inside = (name: string) => storeIn(join(folder, name));
    const [simulated, chosen] = [inside('simulated'), inside('practice')];
    chooseZone(chosen, 'Pacific/Auckland');
    vi.stubEnv('EBBLINE_DATA', folder);
    const said = vi.spyOn(process.stdout, 'write').mockReturnValue(true);
    onTestFinished(() => {
      said.mockRestore();
      vi.unstubAllEnvs();
    });
    await runs['data time-zone']({ zone: 'America/Chicago' });
    expect([simulated, chosen].map((store) => familyZone(store).zone)).toEqual([
      'America/Chicago',
      'Pacific/Auckland',
    ]);
    const begunLater = inside('simulated/practice');
    takeZoneOf(folder, begunLater);
    expect(familyZone(begunLater).zone).toBe('America/Chicago');
  });

  it('a second store that cannot be read has no effect', () => {
    const folder = temporaryFolder();
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'feeds.sqlite'), 'no database');
    const simulated = storeIn(join(folder, 'simulated'));
    takeZoneOf(folder, simulated);
    expect(familyZone(simulated, 'America/Denver').isChosen).toBe(false);
  });

  it('is said and chosen in the terminal too', async () => {
    const folder = temporaryFolder();
    storeOf(folder, []).close();
    vi.stubEnv('EBBLINE_DATA', folder);
    const said = vi.spyOn(process.stdout, 'write').mockReturnValue(true);
    onTestFinished(() => {
      said.mockRestore();
      vi.unstubAllEnvs();
    });
    await runs['data time-zone']({});
    await runs['data time-zone']({ zone: 'America/Chicago' });
    const [before, after] = said.mock.calls.map(([text]) => String(text));
    // Tests run on a machine that stands on UTC.
    expect(before).toMatch(/UTC, as this computer’s clock is set.*\nChoose yours/s);
    expect(after).toBe('Days and times are those of America/Chicago, as chosen.\n');
  });
});
