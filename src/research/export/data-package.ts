/** A Frictionless data package (Data Package v1, specs.frictionlessdata.io) that describes the tables of an export. Pure. */
import type { Column, TableDefinition } from './dictionary.ts';

export interface PackagedFile {
  table: TableDefinition;
  path: string;
  bytes: number;
  sha256: string;
}

const fieldOf = ({ name, type, unit, description }: Column) => ({
  name,
  type,
  description: unit === null ? description : `${description} Unit: ${unit}.`,
  ...(unit !== null && { unit }),
});

/** @returns the contents of datapackage.json */
export function dataPackage(
  study: { code: string; title: string },
  files: readonly PackagedFile[],
  createdBy: string,
): object {
  return {
    profile: 'tabular-data-package',
    name: study.code.toLowerCase(),
    title: study.title,
    description: `Bottle feeds measured with a weighing sleeve. Computed by ${createdBy}. No names are in it.`,
    resources: files.map(({ table, path, bytes, sha256 }) => ({
      profile: 'tabular-data-resource',
      name: table.name,
      description: table.description,
      path,
      format: 'csv',
      mediatype: 'text/csv',
      encoding: 'utf-8',
      bytes,
      hash: `sha256:${sha256}`,
      schema: {
        fields: table.columns.map(fieldOf),
        missingValues: [''],
        ...(table.name === 'sessions' && { primaryKey: 'session' }),
        ...(table.name !== 'sessions' && {
          foreignKeys: [{ fields: 'session', reference: { resource: 'sessions', fields: 'session' } }],
        }),
      },
    })),
  };
}
