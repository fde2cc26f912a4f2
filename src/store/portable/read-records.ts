/** The records of an export, checked one by one; whatever is wrong is told with its line. */
import { PlainError } from '../../base/errors.ts';
import { checked } from '../checks.ts';
import { EXPORT_FORMAT, EXPORT_VERSION, type ExportRecord, headSchema, recordSchema } from './format.ts';
import { linesOf } from './lines.ts';

const NOTHING = 'Nothing was imported.';

/**
 * @returns the records of `path` in order, without the last one, which only says that the file is whole
 * @throws PlainError import-foreign, import-newer, import-broken, FieldError entry-invalid
 */
export function* readRecords(
  path: string,
  nowMs: number,
): Generator<Exclude<ExportRecord, { record: 'end' }>> {
  const schema = recordSchema(nowMs);
  let line = 0;
  let ended = false;
  for (const text of linesOf(path)) {
    line++;
    if (line === 1) checkHead(path, text);
    else if (ended) throw broken(path, line, 'stands after the end');
    else {
      const data = parsed(text);
      if (data === undefined) throw broken(path, line, 'is no JSON: the file was cut or changed');
      const record = checked(schema, data, `line ${line}${nameOf(data)}`);
      if (record.record !== 'end') yield record;
      else if (record.records !== line - 2) {
        throw broken(path, line, `tells of ${record.records} records, but there are ${line - 2}`);
      } else ended = true;
    }
  }
  if (line === 0) checkHead(path, '');
  if (!ended) throw broken(path, line, 'is the last one, but the end is missing: the file was cut short');
}

/** @returns the format's version of an export; 0 when it is none */
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

const broken = (path: string, line: number, what: string): PlainError =>
  new PlainError(
    'import-broken',
    `In ${path}, line ${line} ${what}. ${NOTHING}`,
    'Export again, or take another copy of the file.',
  );

function parsed(text: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    return undefined;
  }
}

/** What a record calls itself, for the sentence; it may be anything. */
function nameOf(data: unknown): string {
  const { record, id } = (data ?? {}) as { record?: unknown; id?: unknown };
  return record === 'feed' || record === 'hand-feed' ? ` (feed ${String(id).slice(0, 64)})` : '';
}
