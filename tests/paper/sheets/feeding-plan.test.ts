import { describe, expect, it } from 'vitest';
import { mlFromFlOz } from '../../../src/base/units.ts';
import { type FeedingPlanInput, feedingPlan } from '../../../src/paper/sheets/feeding-plan.ts';
import { feedingPlanPage, glowBars } from '../../../src/paper/sheets/page.ts';
import { rangeText } from '../../../src/paper/sheets/texts.ts';
import { PRINTED_LANGUAGES, PRINTED_WORDS } from '../../../src/paper/sheets/words.ts';

const LIGHT = {
  'tilt-down': [1.2, 0.4],
  burp: [0.5, 0.5, 0.5, 2.5],
  'switch-side': [1.5, 0.5, 0.5, 1.5],
  'offer-stop': [1],
  'cannot-tell': [0.6, 5.4],
};

/** All invented. */
const input = (part: Partial<FeedingPlanInput> = {}): FeedingPlanInput => ({
  language: 'en',
  babyName: 'Wren',
  parent: { name: 'Mara', phone: '555-0142' },
  milkKind: 'expressed',
  ...part,
});

const allText = (plan: ReturnType<typeof feedingPlan>): string => JSON.stringify(plan);

describe('the feeding plan', () => {
  it.each(PRINTED_LANGUAGES)(
    'holds all that a caregiver needs, in %s: signs, hold, pace, burp, portion, leftovers, light, cautions, a phone',
    (language) => {
      const plan = feedingPlan(input({ language, notes: ['Likes to be sung to.'] }), LIGHT);
      expect(plan.blocks.map(({ id }) => id)).toEqual([
        'hungry',
        'hold',
        'pace',
        'full',
        'burp',
        'bottles',
        'leftovers',
        'notes',
      ]);
      expect(plan.light?.signs).toHaveLength(5);
      expect(plan.stop.emergency).toContain('911');
      expect(plan.reach.people).toEqual([{ name: 'Mara', phone: '555-0142' }]);
      for (const { lines } of plan.blocks) expect(lines.join('').length).toBeGreaterThan(15);
    },
  );

  it('never urges to finish, names no goal and claims nothing about eating too much', () => {
    for (const language of PRINTED_LANGUAGES) {
      const text = allText(feedingPlan(input({ language }), LIGHT)).toLowerCase();
      expect(text).not.toMatch(
        /overfe|obes|goal|target|should (drink|take|finish)|meta |sobrealiment|debe (tomar|terminar)/,
      );
      expect(text).toMatch(/does not need to finish|no hace falta que termine/);
      expect(text).toMatch(/not a medical device|no es un dispositivo médico/);
    }
  });

  it('says the portion as a range, fl oz first, and what each bottle is for', () => {
    const plan = feedingPlan(
      input({
        usual: { lowMl: 70, highMl: 104 },
        bottles: {
          feedsMl: [mlFromFlOz(2.5), mlFromFlOz(2.5), mlFromFlOz(2)],
          topUpsMl: [mlFromFlOz(1)],
          spare: { ml: mlFromFlOz(1), rule: 'kept-apart' },
        },
      }),
      null,
    );
    const { lines } = plan.blocks.find(({ id }) => id === 'bottles')!;
    expect(lines.map((line) => line.replaceAll('\u00a0', ' '))).toEqual([
      'I usually take 2¼–3½ fl oz (70–105 mL) at a feed. Less is fine. More is fine.',
      'One for each feed: 2 × 2½ fl oz (75 mL), 1 × 2 fl oz (60 mL).',
      'Small ones, only if I still ask: 1 × 1 fl oz (30 mL).',
      'Spare, 1 fl oz (30 mL): call before you open it.',
    ]);
    expect(plan.light).toBeNull();
  });

  it('puts the center’s own rule before the published one, by kind of milk', () => {
    const lines = (milkKind: 'expressed' | 'formula' | 'mixed') =>
      feedingPlan(input({ milkKind, leftoverRule: 'Our room: out at once.' }), null).blocks.find(
        ({ id }) => id === 'leftovers',
      )!.lines;
    // Expressed milk: 1 hour once the baby drank (NHS, as quoted by others), the shorter, before 2 hours after the feed (CDC), as on the page after a feed;
    // formula within 1 hour of the feed's start (CDC); mixed: the stricter.
    expect(lines('expressed')).toEqual([
      'Our room: out at once.',
      expect.stringMatching(/1 hour after baby first drank .*\(NHS\).*2 hours after the feed.*CDC/),
    ]);
    expect(lines('formula')[1]).toContain('1 hour from its start');
    expect(lines('mixed')[1]).toContain('1 hour from its start');
  });

  it('gives the baby’s own minutes where they are known, else the leaflets’ whole range', () => {
    const pace = (part: Partial<FeedingPlanInput>) =>
      feedingPlan(input(part), null)
        .blocks.find(({ id }) => id === 'pace')!
        .lines.at(-1);
    expect(pace({ usualMinutes: { low: 13.6, high: 22.2 } })).toBe(
      'My feeds usually last 14 to 22 minutes. Shorter or longer is fine.',
    );
    // Leaflets of two programs: 10–20 and 15–30 minutes.
    expect(pace({})).toContain('10 to 30 minutes');
  });

  it('says the burp as this baby’s light does, else as the AAP does, and tells both sources', () => {
    const burp = (part: Partial<FeedingPlanInput>) =>
      feedingPlan(input(part), LIGHT).blocks.find(({ id }) => id === 'burp')!.lines[0]!;
    expect(burp({ burp: 15 })).toMatch(/about every ½ fl oz \(15 mL\)/);
    expect(burp({ burp: mlFromFlOz(2), language: 'es' })).toMatch(/cada 2 fl oz \(60 mL\)/);
    expect(burp({ burp: 'half-way-and-end' })).toMatch(/half-way and at the end/);
    // AAP: every 2 to 3 oz.
    expect(burp({})).toMatch(/about every 2–3 fl oz \(60–90 mL\)/);
    for (const language of PRINTED_LANGUAGES)
      expect(feedingPlan(input({ language, burp: 15 }), LIGHT).sources).toMatch(
        /AAP (says|dice).*60 (to|a) 90 mL.*(no source|sin fuente)/,
      );
  });

  it.each([
    ['no name', { babyName: ' ' }, 'babyName'],
    ['a phone of novel length', { parent: { name: 'M', phone: '5'.repeat(40) } }, 'parent.phone'],
    ['no such day', { day: '2026-02-30' }, 'day'],
    ['a negative portion', { usual: { lowMl: -5, highMl: 90 } }, 'usual.lowMl'],
    ['four notes', { notes: ['a', 'b', 'c', 'd'] }, 'notes'],
  ])('refuses %s and names the field', (_what, part, field) => {
    expect(() => feedingPlan(input(part), LIGHT)).toThrow(field);
  });

  it('refuses a range that runs backwards', () => {
    expect(() => feedingPlan(input({ usual: { lowMl: 100, highMl: 60 } }), LIGHT)).toThrow(
      'above its high end',
    );
  });
});

describe('its page', () => {
  it('is whole in itself, in its language, and nothing given breaks out of it', () => {
    const html = feedingPlanPage(
      feedingPlan(input({ language: 'es', babyName: '<b>&"', notes: ['<script>x</script>'] }), LIGHT),
    );
    expect(html).toContain('<html lang="es">');
    expect(html).not.toMatch(/<script|<b>&"|https?:|src=|@import/);
    expect(html).toContain('&lt;script&gt;');
    expect(html.match(/<svg/g)).toHaveLength(5);
  });

  it('draws the rhythm of the light as it is', () => {
    expect(glowBars([1])).toEqual([{ fromSec: 0, toSec: 4 }]);
    expect(glowBars([0.5, 0.5, 0.5, 2.5])).toEqual([
      { fromSec: 0, toSec: 0.5 },
      { fromSec: 1, toSec: 1.5 },
    ]);
  });
});

describe('words', () => {
  it('say the same in both languages: as many blocks, lines, columns and notes', () => {
    const shape = (value: unknown): unknown =>
      Array.isArray(value)
        ? value.map(shape)
        : value !== null && typeof value === 'object'
          ? Object.fromEntries(Object.entries(value).map(([key, one]) => [key, shape(one)]))
          : typeof value;
    expect(shape(PRINTED_WORDS.es)).toEqual(shape(PRINTED_WORDS.en));
  });

  it('print whole ounces as US labels do: 30 mL to the fluid ounce (21 CFR 101.9(b)(5)(viii))', () => {
    for (const flOz of [1, 2, 3, 4])
      expect(rangeText(mlFromFlOz(flOz), mlFromFlOz(flOz), 'fl oz')).toBe(`${flOz} fl oz (${30 * flOz} mL)`);
  });

  it('round amounts for people', () => {
    expect(rangeText(73.9, 73.9, 'fl oz')).toBe('2½ fl oz (75 mL)');
    expect(rangeText(59, 121, 'oz')).toBe('2–4 oz (60–120 mL)');
  });
});
