/** Several processes record different feeds of a site into one database at once; each feed has one writer. */
import { describe, expect, it } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { noPostgres, sharedPostgres } from '../support/postgres.ts';
import { freshPlace, recordingAt } from '../support/postgres-store.ts';
import { codeOf } from '../support/refusals.ts';
import { begunFeed, bytesOfSecond, partOfSecond } from '../support/store-samples.ts';

const SECONDS = 12;
const END = { endReason: 'button', endedAtMs: begunFeed('x').startedAtMs + 12_000, refined: null } as const;
const whole = (seconds: number): Buffer =>
  Buffer.concat(Array.from({ length: seconds }, (_, second) => bytesOfSecond(second, 64)));

describe.skipIf(noPostgres !== null)('writers of one database', () => {
  it('record beside one another, and none ends or packs what another one still records', async () => {
    const place = freshPlace(await sharedPostgres());
    const [one, other] = [recordingAt(place), recordingAt(place)];
    one.begin(begunFeed('one'), {});
    other.begin(begunFeed('other'), {});
    for (let second = 0; second < SECONDS; second++) {
      one.append('one', partOfSecond(second));
      other.append('other', partOfSecond(second));
    }
    const third = recordingAt(place);
    expect(third.unfinished()).toEqual([]);
    expect(codeOf(() => third.begin(begunFeed('one'), {}))).toBe('store-taken');
    one.close();
    expect(third.unfinished().map(({ id }) => id)).toEqual(['one']);
    other.finish('other', END);
    expect(third.recover('one', null).state).toBe('ended');
    for (const id of ['one', 'other']) {
      expect(third.get(id)!.rows).toHaveLength(2 * SECONDS);
      expect(whole(SECONDS).equals(readCapture(third.capturePath(id)!).bytes)).toBe(true);
    }
  });

  it('take a feed over from its begin, and it is as if nothing had happened', async () => {
    const place = freshPlace(await sharedPostgres());
    const [first, next, alone] = [
      recordingAt(place),
      recordingAt(place),
      recordingAt({ ...place, site: 'alone' }),
    ];
    const feed = begunFeed('over');
    for (const store of [first, alone]) store.begin(feed, { version: 1 });
    for (let second = 0; second < 7; second++) first.append('over', partOfSecond(second));
    expect(next.takeOver(begunFeed('over', { sleeveId: 'another' }))).toBe(false);
    expect(next.takeOver(feed)).toBe(true);
    // Computed again from its bytes, in parts of other lengths than the first time.
    for (let second = 0; second < SECONDS; second += 2) {
      const [a, b] = [partOfSecond(second), partOfSecond(second + 1)];
      const part = {
        ...b,
        rows: [...a.rows, ...b.rows],
        events: [...a.events, ...b.events],
        bytes: [...a.bytes, ...b.bytes],
      };
      next.append('over', part);
      if (second === 2) expect(codeOf(() => first.append('over', partOfSecond(7)))).toBe('store-overtaken');
    }
    next.finish('over', END);
    for (let second = 0; second < SECONDS; second++) alone.append('over', partOfSecond(second));
    alone.finish('over', END);
    expect(next.get('over')).toEqual(alone.get('over'));
    for (const store of [next, alone])
      expect(whole(SECONDS).equals(readCapture(store.capturePath('over')!).bytes)).toBe(true);
  });

  it('count what was stored once, also if the answer to it was lost', async () => {
    const server = await sharedPostgres();
    const place = freshPlace(server);
    const [first, next] = [recordingAt(place), recordingAt(place)];
    const feed = begunFeed('unsure');
    first.begin(feed, {});
    first.append('unsure', partOfSecond(0));
    // The server stores it, but answers later than a recorder waits.
    server.sql(
      place.name,
      `CREATE FUNCTION late() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN PERFORM pg_sleep(1.5); RETURN NULL; END';
       CREATE CONSTRAINT TRIGGER late AFTER UPDATE ON capture DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION late()`,
    );
    expect(codeOf(() => first.append('unsure', partOfSecond(1)))).toBe('database-away');
    server.sql(place.name, 'DROP TRIGGER late ON capture');
    await expect
      .poll(() => codeOf(() => first.append('unsure', partOfSecond(1))))
      .toBe('nothing was refused');
    first.append('unsure', partOfSecond(2));
    expect(next.get('unsure')!.rows).toHaveLength(6);
    const kept = { rows: 4, cues: 0, told: 0, events: 1, bytes: 2 * 64 };
    expect(next.takeOver(feed, kept)).toBe(true);
    next.append('unsure', partOfSecond(2));
    next.append('unsure', partOfSecond(3));
    expect(whole(4).equals(readCapture(next.capturePath('unsure')!).bytes)).toBe(true);
    expect(next.get('unsure')!.rows).toHaveLength(8);
  });

  it('keep nothing of what the writer before had added behind the end', async () => {
    const place = freshPlace(await sharedPostgres());
    const [first, next] = [recordingAt(place), recordingAt(place)];
    first.begin(begunFeed('less'), {});
    for (let second = 0; second < 7; second++) first.append('less', partOfSecond(second));
    next.takeOver(begunFeed('less'));
    next.append('less', partOfSecond(0));
    next.finish('less', END);
    expect(next.get('less')!.rows).toHaveLength(2);
  });
});

describe.skipIf(noPostgres !== null)('sites in one database', () => {
  it('know nothing of one another, also under the same names', async () => {
    const place = freshPlace(await sharedPostgres());
    const [north, south] = ['north', 'south'].map((site) => recordingAt({ ...place, site }));
    for (const [store, seconds] of [
      [north!, 3],
      [south!, 5],
    ] as const) {
      store.begin(begunFeed('same'), {});
      for (let second = 0; second < seconds; second++) store.append('same', partOfSecond(second));
      store.finish('same', END);
    }
    expect([north!.get('same')!.rows.length, south!.get('same')!.rows.length]).toEqual([6, 10]);
    north!.forget('Wren');
    expect([north!.list().length, south!.list().length]).toEqual([0, 1]);
    expect(whole(5).equals(readCapture(south!.capturePath('same')!).bytes)).toBe(true);
  });
});
