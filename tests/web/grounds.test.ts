/** Colors of the three grounds, against the thresholds of WCAG 2.2: 1.4.6 (7:1) for ink and soft text, 1.4.11 (3:1) for the hue. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { asSeenWith, DEFICIENCIES, type Deficiency } from '../support/color-vision.ts';
import { contrastRatio } from '../support/contrast.ts';

const css = readFileSync(new URL('../../src/web/style/ground.css', import.meta.url), 'utf8');
const colorsOf = (selector: string) => {
  const block = css.slice(css.indexOf(`${selector} {`)).split('}')[0]!;
  return Object.fromEntries(
    [...block.matchAll(/--(\w+): (#[\da-f]{6})/g)].map((match) => [match[1], match[2]!]),
  );
};
const GROUNDS: Record<string, Record<string, string>> = {
  paper: colorsOf(':root'),
  dark: colorsOf(':root[data-tone="dark"]'),
  night: colorsOf(':root[data-tone="night"]'),
};

describe('contrastRatio', () => {
  it('gives the extremes of WCAG 2.2: 21 for black on white, 1 for a color on itself', () => {
    expect(contrastRatio('#000000', '#ffffff')).toBeCloseTo(21, 10);
    expect(contrastRatio('#8a380c', '#8a380c')).toBe(1);
  });
  it('gives 4.54 for #767676 on white, the lightest gray that passes 4.5 (widely published, from memory)', () => {
    expect(contrastRatio('#767676', 'rgb(255, 255, 255)')).toBeCloseTo(4.54, 2);
  });
});

describe.each(Object.entries(GROUNDS))('the %s ground', (_name, color) => {
  it.each(['ground', 'lift'])('carries ink, soft text and the hue on its %s', (ground) => {
    expect(contrastRatio(color.ink!, color[ground]!)).toBeGreaterThanOrEqual(7);
    expect(contrastRatio(color.soft!, color[ground]!)).toBeGreaterThanOrEqual(7);
    expect(contrastRatio(color.hue!, color[ground]!)).toBeGreaterThanOrEqual(3);
  });
});

describe.each(Object.keys(DEFICIENCIES) as Deficiency[])('with %s', (deficiency) => {
  it('leaves white white and black black: each row of its matrix adds up to 1', () => {
    for (const row of DEFICIENCIES[deficiency]) {
      expect(row.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 4);
    }
  });

  it.each(Object.entries(GROUNDS))(
    'ink, soft text and the hue are still seen on the %s ground',
    (_name, color) => {
      for (const ground of ['ground', 'lift'] as const) {
        const against = (name: string) =>
          contrastRatio(asSeenWith(deficiency, color[name]!), asSeenWith(deficiency, color[ground]!));
        expect(against('ink')).toBeGreaterThanOrEqual(7);
        expect(against('soft')).toBeGreaterThanOrEqual(4.5);
        expect(against('hue')).toBeGreaterThanOrEqual(3);
      }
    },
  );
});

describe('the night ground', () => {
  it('is warm: of its colors none has more blue than green, or more green than red', () => {
    for (const hex of Object.values(GROUNDS.night!)) {
      const [red, green, blue] = hex.match(/[\da-f]{2}/g)!.map((part) => Number.parseInt(part, 16));
      expect([hex, red! >= green! && green! >= blue!]).toEqual([hex, true]);
    }
  });
});
