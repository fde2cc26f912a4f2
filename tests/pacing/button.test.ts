import { describe, expect, it } from 'vitest';
import { createButton, stepButton } from '../../src/pacing/rules/button.ts';

/** Runs levels ('#' down, '.' up), one each 0.05 s. @returns [step index, what] of all that came */
function run(levels: string): [number, string][] {
  const button = createButton();
  const came: [number, string][] = [];
  for (const [index, level] of [...levels].entries()) {
    const what = stepButton(button, level === '#', index * 0.05, 2);
    if (what !== null) came.push([index, what]);
  }
  return came;
}

describe('the button', () => {
  it('is pressed at the edge, once', () => {
    expect(run('..###..##.')).toEqual([
      [2, 'press'],
      [7, 'press'],
    ]);
  });

  it('held for 2 s asks for the end of the feed, once', () => {
    expect(run(`.${'#'.repeat(100)}`)).toEqual([
      [1, 'press'],
      [41, 'long-press'],
    ]);
  });

  it('let go after 1.9 s does not', () => {
    expect(run(`.${'#'.repeat(39)}.`)).toEqual([[1, 'press']]);
  });

  it('that is down from the start was not pressed', () => {
    expect(run('#'.repeat(100))).toEqual([]);
  });
});
