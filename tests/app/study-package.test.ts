/** The data package of an export, judged by the standard's own JSON schemas (Data Package v1; see tests/fixtures/data-package). */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv, type ValidateFunction } from 'ajv';
import { expect, it } from 'vitest';
import { exportStudy } from '../../src/app/study/export/study-export.ts';
import { ALONE, studyHere } from '../support/study.ts';

type Descriptor = { resources: { profile?: string; name?: unknown; schema: { fields: unknown[] } }[] };

/** Written for draft 4; what these schemas use of it means the same in draft 7, which Ajv reads. */
function judge(name: string): ValidateFunction {
  const url = new URL(`../fixtures/data-package/${name}.json`, import.meta.url);
  const { $schema, ...schema } = JSON.parse(readFileSync(url, 'utf8'));
  expect($schema).toBe('http://json-schema.org/draft-04/schema#');
  return new Ajv({ strict: false, validateFormats: false, allErrors: true }).compile(schema);
}

const isPackage = judge('data-package');
const isTable = judge('tabular-data-resource');

async function described(raw: boolean): Promise<Descriptor> {
  const { folder, store, study } = studyHere({}, 20);
  study.enroll('F07', 'all');
  study.bind('one', 'F07');
  study.bind('gone', 'F07');
  const out = join(folder, 'export');
  await exportStudy(study, store, ALONE, { out, raw, figures: false, softwareVersion: '1' });
  return JSON.parse(readFileSync(join(out, 'datapackage.json'), 'utf8'));
}

it.each([true, false])('is a data package with tabular resources, raw counts: %s', async (raw) => {
  const data = await described(raw);
  isPackage(data);
  expect(isPackage.errors).toBeNull();
  const tables = data.resources.filter(({ profile }) => profile === 'tabular-data-resource');
  expect(tables.length).toBe(6);
  for (const table of tables) {
    isTable(table);
    expect(isTable.errors).toBeNull();
  }
});

it('a data package with an error is refused by the published schema', async () => {
  const data = await described(false);
  const [table] = data.resources;
  expect(isPackage({ ...data, resources: [] })).toBe(false);
  expect(isPackage({ ...data, resources: [{ ...table, name: 'Not A Name' }] })).toBe(false);
  expect(isTable({ ...table, schema: { fields: [{ name: 'a', type: 'double' }] } })).toBe(false);
});
