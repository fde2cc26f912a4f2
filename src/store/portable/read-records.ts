/** The records of an export, checked one by one; a wrong line is reported with its place, and reading goes on. */
import { FieldError, PlainError } from '../../base/errors.ts';
import { checked } from '../checks.ts';
import { EXPORT_FORMAT, EXPORT_VERSION, type ExportRecord, headSchema, recordSchema } from './format.ts';
import { linesOf } from './lines.ts';

const NOTHING = 'Nothing was imported.';

/** A record to import: all except the last one, which only marks the end of the file. */
export type Importable = Exclude<ExportRecord, { record: 'end' }>;

/** One line of a file: a record, or a sentence about its error. `text` is the unchanged line; empty if a line is missing. */
export type ReadLine = { line: number; text: string } & ({ record: Importable } | { fault: string });

/**
 * @returns the content of `path`, line by line
 * @throws PlainError import-foreign, import-newer; RangeError for a line without end
 */
export function* readRecords(path: string): Generator<ReadLine> {
  let line = 0;
  let ended = false;
  for (const text of linesOf(path)) {
    line++;
    if (line === 1) checkHead(path, text);
    else if (ended) yield { line, text, fault: `Line ${line} stands after the end.` };
    else {
      const read = recordOf(line, text);
      if ('fault' in read || read.record.record !== 'end') {
        yield { line, text, ...(read as { record: Importable } | { fault: string }) };
        continue;
      }
      ended = true;
      const told = read.record.records;
      if (told !== line - 2)
        yield { line, text: '', fault: `There are ${line - 2} records in the file, but it had ${told}.` };
    }
  }
  if (line === 0) checkHead(path, '');
  if (!ended) {
    yield {
      line: line + 1,
      text: '',
      fault: `The file was cut short: its end is missing after line ${line}.`,
    };
  }
}

function recordOf(line: number, text: string): { record: ExportRecord } | { fault: string } {
  const data = parsed(text);
  if (data === undefined) return { fault: `Line ${line} is no JSON: the file was cut or changed.` };
  try {
    return { record: checked(recordSchema, data, `line ${line}${nameOf(data)}`) };
  } catch (error) {
    if (error instanceof FieldError) return { fault: error.message };
    throw error;
  }
}

/** @returns the format's version of an export; 0 if it is no export */
export function versionOf(path: string): number {
  for (const text of linesOf(path)) return headSchema.safeParse(parsed(text)).data?.version ?? 0;
  return 0;
}

function checkHead(path: string, text: string): void {
  const head = headSchema.safeParse(parsed(text));
  if (!head.success) {
    throw new PlainError(
      'import-foreign',
      `The file ${path} is not an export of Ebbline (its first line does not name the format "${EXPORT_FORMAT}"). ${NOTHING}`,
      'Give the file ebbline.jsonl out of an export, the folder that holds it, or a file hand-feeds.csv.',
    );
  }
  if (head.data.version > EXPORT_VERSION) {
    throw new PlainError(
      'import-newer',
      `The file ${path} was exported by a newer Ebbline (format version ${head.data.version}; this one knows ${EXPORT_VERSION}). ${NOTHING}`,
      'Update Ebbline.',
    );
  }
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    return undefined;
  }
}

/** The name of a record for the sentence; the data may be anything. */
function nameOf(data: unknown): string {
  const { record, id } = (data ?? {}) as { record?: unknown; id?: unknown };
  return record === 'feed' || record === 'hand-feed' ? ` (feed ${String(id).slice(0, 64)})` : '';
}
