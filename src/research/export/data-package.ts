/** A Frictionless data package (Data Package v1, specs.frictionlessdata.io) that describes the tables of an export. Pure. */
import { type Column, TABLES, type TableDefinition } from './dictionary.ts';

export interface PackagedFile {
  table: TableDefinition;
  format: 'csv' | 'parquet';
  path: string;
  bytes: number;
  sha256: string;
}

export type RawFile = Pick<PackagedFile, 'path' | 'bytes' | 'sha256'>;

const fieldOf = ({ name, type, unit, description, required }: Column) => ({
  name,
  type,
  description: unit === null ? description : `${description} Unit: ${unit}.`,
  ...(unit !== null && { unit }),
  ...(required && { constraints: { required } }),
});

const schemaOf = (table: TableDefinition) => ({
  fields: table.columns.map(fieldOf),
  missingValues: [''],
  ...(table.name === 'sessions'
    ? { primaryKey: 'session' }
    : { foreignKeys: [{ fields: 'session', reference: { resource: 'sessions', fields: 'session' } }] }),
});

const MEDIA_TYPE = { csv: 'text/csv', parquet: 'application/vnd.apache.parquet' } as const;

const resourceOf = ({ table, format, path, bytes, sha256 }: PackagedFile) => ({
  ...(format === 'csv' && { profile: 'tabular-data-resource' }),
  name: format === 'csv' ? table.name : `${table.name}-parquet`,
  description: table.description,
  path,
  format,
  mediatype: MEDIA_TYPE[format],
  ...(format === 'csv' && { encoding: 'utf-8' }),
  bytes,
  hash: `sha256:${sha256}`,
  schema: schemaOf(table),
});

/** One resource of many files: the standard has no field for the hash of each, so they are added as an extra property. */
function rawResource(files: readonly RawFile[]) {
  const table = TABLES.find(({ name }) => name === 'raw')!;
  return {
    name: 'raw-parquet',
    description: table.description,
    path: files.map(({ path }) => path),
    format: 'parquet',
    mediatype: MEDIA_TYPE.parquet,
    bytes: files.reduce((sum, { bytes }) => sum + bytes, 0),
    hashes: Object.fromEntries(files.map(({ path, sha256 }) => [path, `sha256:${sha256}`])),
    schema: schemaOf(table),
  };
}

/** @param raw files of raw counts, one a session; empty if not wanted @returns the contents of datapackage.json */
export function dataPackage(
  study: { code: string; title: string },
  files: readonly PackagedFile[],
  raw: readonly RawFile[],
  createdBy: string,
): object {
  return {
    profile: 'data-package',
    name: study.code.toLowerCase(),
    title: study.title,
    description: `Bottle feeds measured with a weighing sleeve. Computed by ${createdBy}. No names are in it.`,
    resources: [...files.map(resourceOf), ...(raw.length > 0 ? [rawResource(raw)] : [])],
  };
}
