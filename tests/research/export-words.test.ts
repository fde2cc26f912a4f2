/** Words of an export in both languages: tables, columns, numbers and formulas are the same in both. */
import { describe, expect, it } from 'vitest';
import { dictionaryText, TABLES } from '../../src/research/export/dictionary.ts';
import { EXPORT_WORDS } from '../../src/research/export/export-words.ts';
import { methodsText } from '../../src/research/export/methods.ts';
import { TABLES_ES } from '../../src/research/export/tables-es.ts';
import { INDEX_KEYS, INDICES } from '../../src/research/indices/definitions.ts';
import { EXAMPLE_PROTOCOL, protocolSchema } from '../../src/research/study/protocol.ts';

const cellsOf = (markdown: string): string[][] =>
  markdown
    .split('\n')
    .filter((line) => line.startsWith('|') && !line.startsWith('| ---'))
    .map((line) => line.split('|').map((cell) => cell.trim()));

describe('the dictionary in Spanish', () => {
  it('has the same rows as in English, names, types, units and formulas as they are', () => {
    const [en, es] = (['en', 'es'] as const).map((language) => cellsOf(dictionaryText(language)));
    const columns = TABLES.reduce((sum, one) => sum + 1 + one.columns.length, 0);
    expect(en!.length).toBe(columns + 1 + INDEX_KEYS.length);
    expect(es!.map((row) => row.length)).toEqual(en!.map((row) => row.length));
    en!.forEach((row, i) => {
      const isIndex = row.length === 8;
      if (row[1] === 'column' || row[1] === 'index') return;
      for (const k of isIndex ? [1, 3, 5] : [1, 2, 3]) expect([row[1], es![i]![k]]).toEqual([row[1], row[k]]);
      expect([row[1], es![i]![4]]).not.toEqual([row[1], row[4]]);
    });
  });

  it('says something of its own for each table, column and index, and of no other', () => {
    for (const table of TABLES) {
      expect(EXPORT_WORDS.es.table(table)).not.toBe(table.description);
      expect(Object.keys(TABLES_ES[table.name].columns)).toEqual(table.columns.map(({ name }) => name));
    }
    for (const key of INDEX_KEYS) {
      const es = EXPORT_WORDS.es.index(key);
      expect([key, es.label, es.definition]).not.toEqual([key, INDICES[key].label, INDICES[key].definition]);
      // Years, volumes, pages and identifiers of a source are the same.
      expect([key, es.source.match(/\d+/g)]).toEqual([key, INDICES[key].source.match(/\d+/g)]);
      expect(es.source).not.toMatch(/abstract|definition/);
    }
  });
});

describe('the methods paragraph', () => {
  const facts = {
    participants: 12,
    sessions: 47,
    setAside: 3,
    softwareVersion: '9.8.7',
    isBlinded: true,
    recordedBy: ['1.2.3'],
    calibrations: 5,
    samplesPerSec: 80.13,
    flowSdMlPerMin: 0.64,
    milkSdMl: 1.25,
  };
  const inLanguage = (language: 'en' | 'es', change: object = {}) =>
    methodsText({ ...facts, ...change, protocol: protocolSchema.parse({ ...EXAMPLE_PROTOCOL, language }) });
  const numbersIn = (text: string) => text.match(/\d+(\.\d+)*/g)!.sort();

  it.each([{}, { sessions: 0 }, { setAside: 1 }])(
    'carries the same numbers in both languages: %o',
    (change) => {
      const [en, es] = [inLanguage('en', change), inLanguage('es', change)];
      expect(numbersIn(es)).toEqual(numbersIn(en));
      expect(es.split('\n\n').length).toBe(en.split('\n\n').length);
      expect(es).toMatch(/^# Métodos\n\n/);
      expect(es).toContain('no un dispositivo médico');
      expect(es).not.toMatch(/\b(the|was|were|session|feed)\b/);
    },
  );
});
