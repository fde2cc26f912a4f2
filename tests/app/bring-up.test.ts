/** The quick steps of the checklist that measure, and the page of results, on a simulated sleeve whose flaws are known. */
import { describe, expect, it } from 'vitest';
import { BRING_UP } from '../../hardware/bring-up/steps.ts';
import { checkPage, checkPageText } from '../../src/app/sleeve/check-page.ts';
import { certificateHtml } from '../../src/paper/certificate/certificate-html.ts';
import { broughtUp, numbersOf, oneStep, outOf } from '../support/bring-up.ts';

const ALL = BRING_UP.map(({ id }) => id);
const QUICK = ['delay', 'stops-axial', 'stops-front', 'stops-rear'];

describe('a flaw is found and named', () => {
  it('cells late by 100 ms', async () => {
    const outcome = await oneStep('delay', { sensors: { cellDelayMs: 100 } });
    expect(outcome.passed).toBe(false);
    expect(outOf(outcome)).toEqual(['cells later than the accelerometer by']);
    expect(Math.abs(numbersOf(outcome)[0]! - 95)).toBeLessThan(3);
  });

  it.each(['axial', 'front', 'rear'])('a stop that touches (%s)', async (cell) => {
    const outcome = await oneStep(`stops-${cell}`, { stopTouchesN: 4.5 });
    expect(outcome.passed).toBe(false);
    expect(outOf(outcome)).toEqual(['response to the hardest press, of that to the first']);
    const fromStart = await oneStep(`stops-${cell}`, { stopTouchesN: 0.5 });
    expect(outOf(fromStart)).toContain('shown of the first press');
  });
});

describe('a good sleeve', () => {
  it.each([1, 2, 3, 4])('passes, and shows the delay that it has (seed %i)', async (seed) => {
    const { outcomes } = await broughtUp(QUICK, { seed });
    expect(outcomes.map(({ passed }) => passed)).toEqual([true, true, true, true]);
    // Cells 25 ms late, accelerometer 5 ms.
    expect(Math.abs(numbersOf(outcomes[0]!)[0]! - 20)).toBeLessThan(1);
  });

  it('is not judged for its delay by a hand that keeps still', async () => {
    const outcome = await oneStep('delay', {}, { still: true });
    expect(outcome.passed).toBe(false);
    expect('trouble' in outcome && outcome.trouble).toMatch(/moved too little/);
  });

  it('may be left out, where it takes minutes', async () => {
    const { outcomes, said } = await broughtUp(ALL, {}, { hurried: true });
    expect(outcomes.filter(({ passed }) => passed === null).map(({ id }) => id)).toEqual([
      'long-rest',
      'creep-upright',
      'creep-level',
      'warmth',
    ]);
    expect(said).toMatch(/Left out: long-rest, creep-upright/);
  });
});

describe('the page of results', () => {
  const FACTS = {
    sleeveNumber: 42,
    firmwareVersion: [0, 3, 1],
    checkedOn: 'January 5, 2026',
    calibrated: true,
  };
  const pageOf = async (flaws = {}) => {
    const { steps, outcomes } = await broughtUp(ALL, flaws, { hurried: true });
    return { steps, page: checkPage(steps, outcomes, FACTS) };
  };

  it('states each number with unit, range, and where the range comes from', async () => {
    const { steps, page } = await pageOf();
    const measured = page.tables.find(({ title }) => title === 'What was measured')!;
    const limits = steps.filter(({ id }) => QUICK.includes(id)).flatMap((step) => step.limits);
    expect(measured.rows).toHaveLength(limits.length);
    limits.forEach(({ what, unit, source }, i) => {
      const [name, value, expected, verdict] = measured.rows[i]!;
      expect(name).toContain(what);
      expect(name).toContain(source);
      expect(value).toMatch(new RegExp(`^[\\d.]+ ?${unit}$`));
      expect(expected).toContain(unit);
      expect(verdict).toBe('ok');
    });
    expect(page.tables.map(({ title }) => title)).not.toContain('What to mend');
    expect(page.caution).toMatch(/what was left out is not known/);
    expect(page.facts).toContainEqual([
      'Left out',
      'Noise and drift over ten minutes; Creep, upright; Creep, level; A warm bottle',
    ]);
  });

  it('says what to mend, first, as text and as HTML', async () => {
    const { steps, page } = await pageOf({ sensors: { cellDelayMs: 100 }, stopTouchesN: 4.5 });
    const mend = page.tables[0]!;
    expect(mend.title).toBe('What to mend');
    expect(mend.rows.map(([found]) => found!.split(':')[0])).toEqual([
      'Delay between cells and accelerometer',
      'Stops, axial cell',
      'Stops, front cell',
      'Stops, rear cell',
    ]);
    expect(mend.rows[0]![0]).toMatch(/cells later than the accelerometer by 9\d(\.\d)? ms/);
    expect(page.caution).toMatch(/^Do not use this sleeve at a baby/);
    const [text, html] = [checkPageText(page), certificateHtml(page)];
    for (const id of QUICK) {
      const { ifItFails } = steps.find((step) => step.id === id)!;
      expect(text).toContain(ifItFails);
      expect(html).toContain(ifItFails);
    }
    expect(html).toContain('<title>Bring-up of a sleeve: Sleeve 42</title>');
  });
});
