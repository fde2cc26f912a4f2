/** Commands about the data folder or a sleeve on a port: what to use instead if feeds are stored in a database. */
import { PlainError } from '../base/errors.ts';

const NO_SLEEVE =
  'A database is not asked for it: leave --database out. What it writes is kept there by: ebbline sleeve calibrations --keep FILE --database ADDRESS.';
const ALONE =
  'A sleeve of a house is guided by "ebbline work", or is dark. For a sleeve at home leave --database out.';

const INSTEAD: Readonly<Record<string, string>> = {
  'data backup':
    'A database is backed up by its own tools, as an administrator: pg_dump --format=custom NAME > FILE. Or copy one site to a folder, and back that up: ebbline data move --from ADDRESS --to FOLDER.',
  'data restore':
    'A backup of a database comes back by its own tools: pg_restore. One that was made at home is restored into a folder, and moved: ebbline data move --from FOLDER --to ADDRESS.',
  'sleeve calibrate': NO_SLEEVE,
  'sleeve check': NO_SLEEVE,
  'sleeve alone on': ALONE,
  'sleeve alone off': ALONE,
  'sleeve alone feeds': ALONE,
  start:
    'Sleeves whose feeds go to a database are passed on by "ebbline relay" and guided by "ebbline work".',
};

export const isNotInDatabase = (path: string): boolean => Object.hasOwn(INSTEAD, path);

export const notInDatabase = (path: string): PlainError =>
  new PlainError('database-not-here', `"ebbline ${path}" does not work on a database.`, INSTEAD[path]!);
