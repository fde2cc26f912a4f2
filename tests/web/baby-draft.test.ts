/** The form for a baby: what is typed, what is sent, and which sentence is shown where. */
import { describe, expect, it } from 'vitest';
import { FAMILY_GUIDANCE } from '../../src/pacing/guidance.ts';
import { SCREENING } from '../../src/pacing/screening.ts';
import { checkBabyEntry } from '../../src/store/database/babies.ts';
import { draftOf, entryOf, NEW_DRAFT, NEW_PLAN, troubleAt } from '../../src/web/baby/draft.ts';
import { BABY_WORDS } from '../../src/web/baby/words.ts';
import { babyEntry, NO_TO_ALL } from '../support/babies.ts';

const NOW_MS = Date.UTC(2026, 0, 9);
const words = BABY_WORDS.en;

describe('the form', () => {
  it('gives back what was kept, unchanged', () => {
    const plan = {
      from: 'the clinic',
      lasting: { rateMlPerMin: 6.5, depthMl: 12 },
      pouring: { rateMlPerMin: 10, depthMl: 5 },
      rhythm: { sucks: 4, pauseSec: 3 },
      enough: false,
    };
    for (const entry of [
      babyEntry(),
      babyEntry({ plan, breast: { minutes: 15, sides: 1 }, usualFeedMl: 90 }),
    ]) {
      expect(checkBabyEntry(entryOf(draftOf(entry)), NOW_MS)).toEqual(entry);
    }
  });

  it('starts from what pacing starts a family from, with every question open', () => {
    expect(FAMILY_GUIDANCE).toMatchObject(NEW_DRAFT.choices);
    expect(SCREENING.filter(({ id }) => NEW_DRAFT.answers[id] !== undefined)).toEqual([]);
    expect(() => checkBabyEntry(entryOf({ ...NEW_DRAFT, name: 'Wren' }), NOW_MS)).toThrow();
    const answered = { ...NEW_DRAFT, name: 'Wren', answers: NO_TO_ALL };
    expect(checkBabyEntry(entryOf(answered), NOW_MS).name).toBe('Wren');
  });

  it('takes a comma for a point, and leaves what is no number to be refused', () => {
    const plan = { ...NEW_PLAN, from: 'clinic', lastingRate: '6,5', lastingDepth: 'a lot' };
    expect(entryOf({ ...NEW_DRAFT, plan })).toMatchObject({
      plan: { lasting: { rateMlPerMin: 6.5, depthMl: null } },
    });
  });

  it('says nothing of the breast for a family that does not breastfeed, whatever was typed before', () => {
    const draft = { ...NEW_DRAFT, minutes: '15' };
    expect(entryOf({ ...draft, breastfed: false })).toMatchObject({ breast: null });
    expect(entryOf({ ...draft, breastfed: true })).toMatchObject({ breast: { minutes: 15, sides: 2 } });
    expect(entryOf({ ...draft, breastfed: true, minutes: ' ' })).toMatchObject({ breast: null });
  });

  it('has a sentence at the field that is wrong, and at no other', () => {
    const at = (field: string, code = 'baby-invalid') => ({ code, field, message: '', remedy: '' });
    expect(troubleAt(at('plan.lasting.depthMl'), 'plan.lasting.depthMl', words)).toBe(words.troubles.plan);
    expect(troubleAt(at('plan.from'), 'plan.from', words)).toBe(words.troubles.from);
    expect(troubleAt(at('name', 'baby-name-taken'), 'name', words)).toBe(words.nameTaken);
    expect(troubleAt(at('answers.cleft'), 'answers.jaundice', words)).toBeNull();
    expect(troubleAt(null, 'name', words)).toBeNull();
  });

  it('never urges and never praises, in either language', () => {
    for (const language of ['en', 'es'] as const) {
      const all = JSON.stringify(BABY_WORDS[language]).toLowerCase();
      expect(all).not.toMatch(/finish|empty|well done|termine|vac[ií]e|muy bien/);
    }
  });
});
