/** The page's small pure parts. */
import { describe, expect, it } from 'vitest';
import { mlFromFlOz } from '../../src/base/units.ts';
import { knownFrom } from '../../src/web/before/known.ts';
import { nextPortionMl } from '../../src/web/before/portion.ts';
import { byDay, dayText, timeText } from '../../src/web/feeds/days.ts';
import { placeOf } from '../../src/web/feeds/zone-notice.tsx';
import { isNightHour, liveTone, readingTone } from '../../src/web/live/tone.ts';
import { babyText } from '../../src/web/parts/baby-choices.ts';
import { allows } from '../../src/web/parts/right.tsx';
import { addressOf, type Route, routeOf } from '../../src/web/parts/route.ts';
import { sleeveName } from '../../src/web/parts/sleeve-name.ts';
import { TEXTS } from '../../src/web/words/texts.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';

describe('routeOf', () => {
  it.each<Route>([
    { page: 'live' },
    { page: 'before' },
    { page: 'feeds' },
    { page: 'numbers' },
    { page: 'feed', id: 'a/b ç?#%' },
    { page: 'after', id: 'a/b ç?#%' },
    { page: 'days' },
    { page: 'days', day: '2026-11-01' },
    { page: 'week', day: '2026-11-01' },
    { page: 'write-feed' },
    { page: 'compare', first: 'a/b', second: 'ç?#%' },
  ])('finds back to $page', (route) => {
    expect(routeOf(addressOf(route))).toEqual(route);
  });
  it.each(['', '#', '#/', '#/nowhere', '#/live/7'])('takes %j as the live page', (hash) => {
    expect(routeOf(hash)).toEqual({ page: 'live' });
  });
  it('does not stumble over a broken escape', () => {
    expect(routeOf('#/feeds/%E0%A4')).toEqual({ page: 'feed', id: '%E0%A4' });
  });
});

describe('liveTone', () => {
  it('is dark in a feed until there is a cue, then paper', () => {
    expect(liveTone('gentle', false, false)).toBe('dark');
    expect(liveTone('cannot-tell', false, false)).toBe('dark');
    expect(liveTone('tilt-down', false, false)).toBe('paper');
    expect(liveTone('waiting', false, false)).toBe('paper');
  });
  it('takes the hours from 7 in the evening to 7 in the morning for night', () => {
    const nights = Array.from({ length: 24 }, (_, hour) => hour).filter(isNightHour);
    expect(nights).toEqual([0, 1, 2, 3, 4, 5, 6, 19, 20, 21, 22, 23]);
  });
  it('never brightens when dimmed, at night, or where the device asks for dark', () => {
    for (const showing of ['gentle', 'tilt-down', 'waiting'] as const) {
      expect(liveTone(showing, true, false)).toBe('night');
      expect(liveTone(showing, false, true)).toBe('dark');
    }
    expect(readingTone(true, true)).toBe('night');
    expect(readingTone(false, false)).toBe('paper');
  });
});

describe('nextPortionMl', () => {
  it('goes by quarter ounces, or by 5 mL', () => {
    const three = mlFromFlOz(3);
    expect(nextPortionMl(three, 'fl-oz', 1)).toBeCloseTo(mlFromFlOz(3.25), 2);
    expect(nextPortionMl(three, 'fl-oz', -1)).toBeCloseTo(mlFromFlOz(2.75), 2);
    expect(nextPortionMl(90, 'ml', 1)).toBe(95);
    expect(nextPortionMl(88.72, 'ml', 1)).toBe(95);
  });
  it('begins at 2 fl oz, goes out at the lower end and stops at the upper', () => {
    expect(nextPortionMl(null, 'fl-oz', 1)).toBeCloseTo(mlFromFlOz(2), 2);
    expect(nextPortionMl(null, 'ml', 1)).toBe(60);
    expect(nextPortionMl(null, 'ml', -1)).toBeNull();
    expect(nextPortionMl(5, 'ml', -1)).toBeNull();
    expect(nextPortionMl(480, 'ml', 1)).toBe(480);
  });
  it('a walk up and down comes back to the same portion', () => {
    let ml = nextPortionMl(null, 'fl-oz', 1);
    const first = ml;
    for (let step = 0; step < 12; step++) ml = nextPortionMl(ml, 'fl-oz', 1);
    for (let step = 0; step < 12; step++) ml = nextPortionMl(ml, 'fl-oz', -1);
    expect(ml).toBe(first);
  });
});

describe('knownFrom', () => {
  it('offers each baby, bottle and caregiver once, with the latest birth date known', () => {
    const known = knownFrom([
      { ...EMPTY_SETUP, babyName: 'Juno', caregiver: 'A.' },
      { ...EMPTY_SETUP, babyName: 'Ilo', babyBirthDate: '2026-09-01', bottleName: 'blue' },
      { ...EMPTY_SETUP, babyName: 'Juno', babyBirthDate: '2026-08-30', bottleName: 'blue', caregiver: 'B.' },
      EMPTY_SETUP,
    ]);
    expect(known.babies).toEqual([
      { babyName: 'Juno', babyBirthDate: '2026-08-30' },
      { babyName: 'Ilo', babyBirthDate: '2026-09-01' },
    ]);
    expect(known.bottles).toEqual(['blue']);
    expect(known.caregivers).toEqual(['A.', 'B.']);
  });
});

const READING = { language: 'en', zone: 'UTC', nowMs: Date.UTC(2026, 11, 1) } as const;

describe('byDay', () => {
  it('keeps days of different years apart, and the order', () => {
    const at = (iso: string) => ({ atMs: Date.parse(iso) });
    const feeds = [at('2026-11-24T18:05Z'), at('2026-11-24T03:00Z'), at('2025-11-24T18:05Z')];
    expect(byDay(feeds, READING).map((day) => [day.day, day.feeds.length])).toEqual([
      ['Tuesday, November 24', 2],
      ['Monday, November 24, 2025', 1],
    ]);
    // In Chicago, six hours behind, the second one began on the evening before (IANA time zone database).
    expect(byDay(feeds, { ...READING, zone: 'America/Chicago' }).map(({ day }) => day)).toEqual([
      'Tuesday, November 24',
      'Monday, November 23',
      'Monday, November 24, 2025',
    ]);
  });
  it('writes dates and times as people read them', () => {
    const atMs = Date.UTC(2026, 10, 24, 18, 5);
    expect(timeText(atMs, READING)).toMatch(/^6:05\sPM$/);
    expect(timeText(atMs, { language: 'en', zone: 'America/Chicago' })).toMatch(/^12:05\sPM$/);
    expect(dayText(atMs, { ...READING, language: 'es' })).toBe('martes, 24 de noviembre');
  });
});

describe('texts', () => {
  const flat = (value: unknown, path = ''): [string, string][] =>
    typeof value === 'string'
      ? [[path, value]]
      : value !== null && typeof value === 'object'
        ? Object.entries(value).flatMap(([key, inner]) => flat(inner, `${path}.${key}`))
        : [];
  it('are all there in both languages, and differ', () => {
    const spanish = new Map(flat(TEXTS.es));
    const same = flat(TEXTS.en).filter(
      ([path, text]) => text === '' || spanish.get(path) === text || !spanish.get(path),
    );
    expect(same).toEqual([]);
  });
  it('never urge to finish, praise or score', () => {
    const all = [...flat(TEXTS.en)].map(([, text]) => text).join(' ');
    expect(all).not.toMatch(
      /great|well done|goal|streak|score|almost there|keep going|last (ounce|drop)|breast/i,
    );
  });
});

describe('what a device is offered', () => {
  it('is nothing before its right is known, and then as much as the right', () => {
    expect(allows(null, 'watch')).toBe(false);
    expect(allows('watch', 'help')).toBe(false);
    expect(allows('help', 'help')).toBe(true);
    expect(allows('help', 'owner')).toBe(false);
    expect(allows('owner', 'all')).toBe(false);
    expect(allows('all', 'owner')).toBe(true);
  });
});

describe('namesakes', () => {
  it('are told apart by their days of birth, in words', () => {
    const wren = (id: string, birthDay: string) => ({ id, name: 'Wren', birthDay });
    const babies = [wren('a', '2026-07-12'), wren('b', '2025-01-03')];
    expect(babyText(babies[0]!, babies, 'en')).toBe('Wren (born Jul 12, 2026)');
    expect(babyText(babies[1]!, babies, 'es')).toBe('Wren (nació el 3 ene 2025)');
    expect(babyText(babies[0]!, babies.slice(0, 1), 'en')).toBe('Wren');
  });
});

describe('names in Spanish', () => {
  it('are those of places and sleeves; a port stays as it is', () => {
    // Exemplar cities of Unicode CLDR, Spanish: Nueva York, Ciudad de México.
    expect(placeOf('America/New_York', 'es')).toBe('Nueva York');
    expect(placeOf('America/Mexico_City', 'es')).toBe('Ciudad de México');
    expect(placeOf('America/New_York', 'en')).toBe('New York');
    expect(placeOf('UTC', 'es')).toBe('UTC');
    expect(sleeveName('simulated sleeve', 'es')).toBe('funda simulada');
    expect(sleeveName('simulated sleeve', 'en')).toBe('simulated sleeve');
    expect(sleeveName('/dev/ttyUSB0', 'es')).toBe('/dev/ttyUSB0');
  });
});
