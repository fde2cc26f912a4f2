/** What people read of an export, by the study's language: the methods paragraph and the dictionary. Tables, types and keys stay as machines read them. */
import type { IndexDefinition, IndexKey } from '../indices/definitions.ts';
import type { Protocol } from '../study/protocol.ts';
import type { Column, TableDefinition } from './dictionary.ts';
import { EXPORT_WORDS_EN } from './export-words-en.ts';
import { EXPORT_WORDS_ES } from './export-words-es.ts';
import type { MethodsFacts } from './methods.ts';

export interface ExportWords {
  methods: {
    title: string;
    noSession: (facts: MethodsFacts) => string;
    randomised: (arms: readonly string[], allocation: NonNullable<Protocol['allocation']>) => string;
    withheld: string;
    blinded: string;
    weighed: (facts: MethodsFacts) => string;
    setAside: (count: number) => string;
    estimated: (facts: MethodsFacts) => string;
    prototype: string;
  };
  dictionary: {
    title: string;
    files: string;
    columns: readonly [name: string, type: string, unit: string, meaning: string];
    indices: string;
    sees: string;
    ofIndex: readonly [
      key: string,
      label: string,
      unit: string,
      definition: string,
      formula: string,
      source: string,
    ];
  };
  /** What a table is of, and what a column of it means. */
  table: (table: TableDefinition) => string;
  column: (table: TableDefinition, column: Column) => string;
  index: (key: IndexKey) => Pick<IndexDefinition, 'label' | 'definition' | 'source'>;
}

export const EXPORT_WORDS: Readonly<Record<Protocol['language'], ExportWords>> = {
  en: EXPORT_WORDS_EN,
  es: EXPORT_WORDS_ES,
};
