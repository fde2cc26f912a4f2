/** One plain line before a feed when the sleeve's calibration is in doubt. */
import { describe, expect, it } from 'vitest';
import type { CalibrationDoubt } from '../../src/pacing/cues/words-calibration.ts';
import type { OpenPage } from './open-page.ts';

const DOUBTS: [CalibrationDoubt, RegExp][] = [
  ['zero-moved', /zero has moved a little.*calibrate again soon/],
  ['zero-far', /zero has moved.*calibrate again before you go by its cues/],
  ['other-bottle', /not weigh like the bottle the sleeve knows/],
  ['amount-differs', /does not weigh what you entered/],
  ['check-due', /due for its next calibration/],
];

export function calibrationSuite(open: OpenPage): void {
  describe('a calibration in doubt', () => {
    it.each(DOUBTS)('%s is said on the waiting page, in words alone', async (calibration, words) => {
      await open.turn('waiting', { calibration });
      expect(await open.seen('.note')).toMatch(words);
      expect(await open.seen()).not.toMatch(/\d\s*(g|mL|fl oz)\b/);
    });

    it('is said before a feed too, fits a phone, and axe finds nothing', async () => {
      await open.turn('waiting', { calibration: 'zero-far' });
      expect(await open.scrollsSideways()).toBe(false);
      expect(await open.axeViolations()).toEqual([]);
      await open.goTo('#/before');
      expect(await open.seen(open.page.locator('main [role="status"]').first())).toMatch(DOUBTS[1]![1]);
      expect(await open.axeViolations()).toEqual([]);
    });

    it('in a feed says that its cues may be wrong, in short, beside no cue and no weightier line', async () => {
      await open.show('gentle', { calibration: 'zero-far' });
      expect(await open.seen('.note')).toMatch(
        /^The sleeve’s zero has moved: its cues may be wrong\. Go by baby\.$/,
      );
      expect(await open.axeViolations(open.page, { contrast7: true })).toEqual([]);
      await open.show('tilt-down', { calibration: 'zero-far' });
      expect(await open.page.locator('.note').isVisible()).toBe(false);
      await open.show('gentle', { calibration: 'other-bottle', notices: ['not-screened'] });
      expect(await open.seen('.note')).not.toMatch(/bottle the sleeve knows/);
    });

    it('says nothing where there is no doubt', async () => {
      await open.show('waiting', { calibration: null });
      expect(await open.page.locator('.note').isVisible()).toBe(false);
    });
  });
}
