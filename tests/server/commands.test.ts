import { describe, expect, it } from 'vitest';
import { checkCommand, PORTION_MAX_ML } from '../../src/server/commands.ts';
import { checkBabyEntry } from '../../src/store/database/babies.ts';
import { babyEntry } from '../support/babies.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';

const TODAY = '2026-11-25';
const check = (body: unknown) => checkCommand(body, TODAY);
const setup = (part: object) => check({ kind: 'setup', setup: { ...EMPTY_SETUP, ...part } });

describe('checkCommand', () => {
  it.each([
    { kind: 'mute', on: true },
    { kind: 'dim', on: false },
    { kind: 'guidance-off', on: true },
    { kind: 'burped' },
    { kind: 'end-feed' },
    { kind: 'discard-feed' },
    { kind: 'setup', setup: EMPTY_SETUP },
    { kind: 'setup', setup: { ...EMPTY_SETUP, babyId: 'b-1', teatName: 'Wide', teatFlow: 'slow' } },
    { kind: 'hand-over', caregiver: 'Ash' },
    { kind: 'which-sleeve' },
  ])('takes $kind', (command) => {
    expect(check(command)).toStrictEqual({ command });
  });

  it('trims names and takes blank ones as left out', () => {
    expect(setup({ babyName: '  Noé ', caregiver: '   ' })).toMatchObject({
      command: { setup: { babyName: 'Noé', caregiver: null } },
    });
  });

  it.each([
    ['no object', 'hello', undefined],
    ['nothing', undefined, undefined],
    ['an unknown kind', { kind: 'tip-up' }, 'kind'],
    ['a missing kind', { on: true }, 'kind'],
    ['a toggle without its value', { kind: 'mute' }, 'on'],
    ['a toggle of text', { kind: 'mute', on: 'yes' }, 'on'],
    ['an extra field', { kind: 'burped', ml: 3 }, undefined],
  ])('refuses %s', (_what, body, field) => {
    const answer = check(body);
    if (!('error' in answer)) throw new Error('it was taken');
    expect(answer.error.code).toBe('bad-command');
    expect(answer.error.field).toBe(field);
    expect(answer.error.message).not.toBe('');
  });

  it.each([
    ['babyBirthDate', '2026-02-30', 'not a day of the calendar'],
    ['babyBirthDate', '2026-11-26', 'future'],
    ['babyBirthDate', '2016-11-24', '10 years'],
    ['babyBirthDate', '25.11.2026', 'YYYY-MM-DD'],
    ['portionMl', 0, 'more than 0 mL'],
    ['portionMl', -30, 'more than 0 mL'],
    ['portionMl', PORTION_MAX_ML + 1, 'at most'],
    ['portionMl', '90', 'number of mL'],
    ['milkKind', 'oat', 'expressed, formula, mixed'],
    ['teatFlow', 'turbo', 'slow, medium, fast'],
    ['babyName', 'x'.repeat(81), 'at most 80'],
    ['babyName', 'a\nb', 'one line'],
    ['babyName', 'a\u0007b', 'control characters'],
  ])('names the field when %s is %j', (field, value, words) => {
    const answer = setup({ [field]: value });
    if (!('error' in answer)) throw new Error('it was taken');
    expect(answer.error.field).toBe(`setup.${field}`);
    expect(answer.error.message).toContain(words);
  });

  it('takes whatever name a baby may be kept with', () => {
    const babyName = 'x'.repeat(70);
    expect(checkBabyEntry(babyEntry({ name: babyName }), Date.parse(TODAY)).name).toBe(babyName);
    expect(setup({ babyName })).toMatchObject({ command: { setup: { babyName } } });
    expect(check({ kind: 'hand-over', caregiver: babyName })).toHaveProperty('command');
  });

  it('takes a baby born today and one just under ten years', () => {
    expect(setup({ babyBirthDate: TODAY })).toHaveProperty('command');
    expect(setup({ babyBirthDate: '2016-11-25' })).toHaveProperty('command');
  });
});
