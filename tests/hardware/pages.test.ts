import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { BOUGHT } from '../../hardware/bought-parts.ts';
import { CLAMP, WIRE } from '../../hardware/design.ts';
import { wiringDrawing } from '../../hardware/drawings/wiring.ts';
import { fillMarked } from '../../hardware/marked-text.ts';
import { ELECTRICAL, PINS } from '../../hardware/pins.ts';
import { LINK_POST_MM, linkLengthsMm } from '../../hardware/shape/cup-side.ts';
import { wiredPins, wiringTables } from '../../hardware/wiring.ts';

const hardware = (path: string) => fileURLToPath(new URL(`../../hardware/${path}`, import.meta.url));
const page = (path: string) => readFileSync(hardware(path), 'utf8');

describe('marked places', () => {
  const text = 'a\n<!-- generated: x -->\nold\n<!-- end of x -->\nb\n';

  it('are filled, and the rest stays', () => {
    const once = fillMarked(text, { x: () => '| $& new |' });
    expect(once).toBe('a\n<!-- generated: x -->\n| $& new |\n<!-- end of x -->\nb\n');
    expect(fillMarked(once, { x: () => '| $& new |' })).toBe(once);
  });

  it('must all be known, and all be there', () => {
    expect(() => fillMarked(text, {})).toThrow(RangeError);
    expect(() => fillMarked(text, { x: () => '', y: () => '' })).toThrow('y');
  });
});

describe('wiring', () => {
  it('has each wired pin of the pin table in the table and in the drawing, once', () => {
    const rows = wiringTables().split('\n');
    const drawing = wiringDrawing();
    for (const pin of wiredPins()) {
      expect(rows.filter((row) => row.startsWith(`| ${pin.label} |`))).toHaveLength(1);
      expect(drawing.split(`>${pin.label}</text>`)).toHaveLength(2);
    }
    for (const pin of PINS.filter((each) => each.wiredTo === null))
      expect(drawing).not.toContain(`>${pin.label}</text>`);
  });

  it('gives every converter the one clock', () => {
    expect(wiringTables()).toContain('11.0592 MHz');
    expect(ELECTRICAL.converterClockHz / ELECTRICAL.converterDivider).toBe(80);
  });
});

describe('parts list', () => {
  it('is a CSV whose rows all have the header’s fields', () => {
    const rows = page('parts.csv').trimEnd().split('\r\n');
    const counts = new Set(rows.map((row) => [...splitCsv(row)].length));
    expect([...counts]).toEqual([7]);
    expect(rows.length).toBeGreaterThan(BOUGHT.length);
  });

  it('has no coin cell, and one for every resistor in the drawing', () => {
    expect(BOUGHT.filter((line) => /coin/i.test(line.part))).toEqual([]);
    const drawn = wiringDrawing();
    for (const [rating, quantity] of [
      ['680 Ω', 3],
      ['330 Ω', 1],
    ] as const) {
      expect(drawn.split(`>${rating}</text>`).length - 1).toBe(quantity);
      expect(BOUGHT.find((line) => line.rating.startsWith(rating))!.quantity).toBe(quantity);
    }
  });
});

describe('build guide', () => {
  const guide = page('BUILD.md');

  it('flashes without a boot loader, and lets the chip start at the program', () => {
    expect(guide).toContain('hfuse:w:0xD9');
    expect(guide).not.toContain('-c arduino');
    // BOOTRST is bit 0 of the high fuse; 1 is unprogrammed: the reset goes to address 0.
    expect(0xd9 & 1).toBe(1);
  });

  it.each([
    'not a medical device',
    'No cable near the baby',
    'Small parts',
    'Hot milk',
    'No heating and no microwaving',
    'Food contact stays with the bottle',
    'sanitizer',
    'wash it in warm water',
    'lithium-ion',
    'No coin cells',
    'USB isolator',
    'syringe',
    'Never charge it while it is in use',
    'small-parts cylinder',
    'No printed part may touch milk or mouth',
    'dishwasher',
    'eeprom:w:',
    '**Coat** the boards',
    '**Tools:**',
    'hours of hand work',
    'both** bosses',
    'It must follow neither way without its cell',
    'a number of six digits or more to pair with',
  ])('says: %s', (words) => {
    expect(guide).toContain(words);
  });

  it('writes to the EEPROM what the program reads there: number, reference, motor', () => {
    const bytes = /eeprom:w:([0-9a-fx,]+):m/.exec(guide)![1]!.split(',').map(Number);
    const said = /is sleeve (\d+) \(0x2a\), reference (\d+) mV/.exec(guide)!;
    const view = new DataView(Uint8Array.from(bytes).buffer);
    expect(view.getUint32(0, true)).toBe(Number(said[1]));
    expect(view.getUint16(4, true)).toBe(Number(said[2]));
    expect(bytes).toHaveLength(7);
    // The EEPROM addresses as the firmware's source defines them.
    const placeOf = (name: string) =>
      Number(new RegExp(`#define ${name}\\s+(\\d+)`).exec(page('firmware/config.h'))![1]);
    expect(['EEPROM_SLEEVE_NUMBER', 'EEPROM_BANDGAP', 'EEPROM_GRIP_MOTOR'].map(placeOf)).toEqual([0, 4, 6]);
  });

  it('counts its steps through, each once, and speaks of every tool before it is needed', () => {
    const order = guide.slice(guide.indexOf('## Order of work'), guide.indexOf('## Flashing'));
    const steps = [...order.matchAll(/^(\d+)\. /gm)].map(([, n]) => Number(n));
    expect(steps).toEqual(steps.map((_, i) => i + 1));
    expect(steps.length).toBeGreaterThan(20);
    const tools = /\*\*Tools:\*\*([^\n]*)/.exec(guide)![1]!;
    for (const tool of [
      'caliper',
      'luggage scale',
      'dial gauge',
      'torch',
      'kitchen scale',
      'reamers',
      'programmer',
      'bench supply',
      'scalpel',
      'screw clamp',
      'vise',
      'carries 5 kg',
      'USB-to-serial adapter',
      'eye protection',
    ])
      expect(tools).toContain(tool);
    for (const diameter of order.matchAll(/(\d\.\d) mm (?:in the|drill)/g))
      expect(tools).toContain(diameter[1]!);
    const usedUp = /\*\*Also used up or laid in:\*\*([^\n]*)/.exec(guide)![1]!;
    for (const supply of [
      'thread lock',
      'varnish',
      'double tape',
      'shims',
      'five-cent coins',
      'tube',
      'ruler',
    ]) {
      expect(order).toContain(supply === 'ruler' ? 'half a millimeter' : supply);
      expect(usedUp).toContain(supply);
    }
    // Order of the steps: the radio is set before it is wired in, and the chip is flashed after it is wired up and has power.
    const step = (words: string) => order.indexOf(words);
    expect(step('**Set the radio**')).toBeLessThan(step('**Join them'));
    expect(step('**Join them')).toBeLessThan(step('**Flash** the chip'));
    expect(step('Cut the wires')).toBeLessThan(step('Thread the struts'));
    // The lengths of wire follow from the drawings: 5 mm are glued at one end, and the clamp, post or block holds the other.
    const cut =
      /three struts of Ø 0.4 mm, (\d+) mm long; of Ø 0.45 mm one link of (\d+) mm and two of (\d+) mm/.exec(
        order,
      )!;
    const [strut, front, rear] = cut.slice(1).map(Number);
    expect(strut! - (5 + WIRE.strutLengthMm + CLAMP.headMm / 2)).toBeGreaterThanOrEqual(0);
    expect(front! - linkLengthsMm.front - LINK_POST_MM.front).toBeGreaterThanOrEqual(5);
    expect(rear! - linkLengthsMm.rear - LINK_POST_MM.rear).toBeGreaterThanOrEqual(5);
  });

  it('shows every drawing that it links', () => {
    for (const [, path] of guide.matchAll(/!\[[^\]]*\]\(([^)]+)\)/g)) expect(page(path!)).toContain('<svg');
  });
});

describe('checklist', () => {
  it('can be used without the solid modeler: nothing it imports leads there', () => {
    const seen = new Set<string>();
    const visit = (file: string): void => {
      if (seen.has(file)) return;
      seen.add(file);
      for (const [, path] of readFileSync(file, 'utf8').matchAll(/from '([^']+)'/g)) {
        expect(path).not.toContain('@jscad');
        if (path!.startsWith('.')) visit(resolve(dirname(file), path!));
      }
    };
    visit(hardware('bring-up/check-steps.ts'));
    visit(hardware('bring-up/checklist.ts'));
    expect(seen.size).toBeGreaterThan(5);
  });
});

function* splitCsv(row: string): Generator<string> {
  let field = '';
  let quoted = false;
  for (const c of row) {
    if (c === '"') quoted = !quoted;
    if (c === ',' && !quoted) {
      yield field;
      field = '';
    } else field += c;
  }
  yield field;
}
