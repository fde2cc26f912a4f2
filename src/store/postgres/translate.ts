/**
 * Translates the store's SQL, written for SQLite, to PostgreSQL. It is not a general translator: it knows the few phrases that the store uses and
 * refuses unknown ones (`refuseUnknown`), so that a new phrase fails in the tests and not in use.
 */

/** Lines of every table belong to a site; access is defined in rights.ts. */
const SITE = 'site text COLLATE "C" NOT NULL DEFAULT current_setting(\'ebbline.site\')';

/** Phrases of SQLite that must not remain. */
const ONLY_SQLITE =
  /\b(json_extract|json_set|json_each|json_group_object|iif|instr|WITHOUT ROWID|OR REPLACE|OR IGNORE|PRAGMA|VIRTUAL|COLLATE (NOCASE|BINARY)|BLOB|last_insert_rowid)\b|\bIS [?$]/;

function refuseUnknown(translated: string, sql: string): string {
  const left = ONLY_SQLITE.exec(translated);
  if (left) throw new Error(`no word of PostgreSQL is known for "${left[0]}" in: ${sql}`);
  return translated;
}

/** A statement about feeds; `?` become numbers. */
export function statementFor(sql: string): string {
  let values = 0;
  const translated = common(sql)
    .replaceAll('json_each(?)', 'json_array_elements_text(?::json) AS listed(value)')
    .replaceAll(/json_group_object\((\w+), (\w+)\)/g, "coalesce(json_object_agg($1, $2)::text, '{}')")
    .replaceAll(/\bON CONFLICT \(/g, 'ON CONFLICT (site, ')
    .replaceAll(/\bAS ([a-z]+[A-Z]\w*)/g, 'AS "$1"')
    .replaceAll(/'[^']*'|\?/g, (found) => (found === '?' ? `$${++values}` : found));
  return refuseUnknown(translated, sql);
}

const common = (sql: string): string =>
  withoutExtract(sql)
    .replaceAll('COLLATE NOCASE', 'COLLATE nocase')
    .replaceAll('COLLATE BINARY', 'COLLATE "C"');

/** `json_extract(x, '$.a')` as `(x::json ->> 'a')`, the innermost first. */
function withoutExtract(sql: string): string {
  const at = sql.lastIndexOf('json_extract(');
  if (at < 0) return sql;
  const from = at + 'json_extract('.length;
  const [, what, field] = /^([\s\S]*), '\$\.(\w+)'$/.exec(sql.slice(from, closing(sql, from)))!;
  return withoutExtract(
    `${sql.slice(0, at)}((${what})::json ->> '${field}')${sql.slice(closing(sql, from) + 1)}`,
  );
}

/** @returns position of the closing bracket for the one opened before `from` */
function closing(sql: string, from: number): number {
  for (let depth = 1, at = from; at < sql.length; at++) {
    if (sql[at] === '(') depth++;
    else if (sql[at] === ')' && --depth === 0) return at;
  }
  throw new Error(`a bracket is not closed in: ${sql}`);
}

/** One step of the schema (database/migrations.ts). */
export const schemaFor = (step: string): string =>
  step
    .split(/;\s*(?:\n|$)/)
    .map((statement) => statement.trim())
    .filter((statement) => statement !== '')
    .map((statement) => refuseUnknown(schemaStatement(statement), statement))
    .join(';\n');

function schemaStatement(sql: string): string {
  const table = /^CREATE TABLE (\w+) \(([\s\S]*)\)( WITHOUT ROWID)?$/.exec(sql);
  if (table) return tableFor(table[1]!, table[2]!);
  const column = /^ALTER TABLE (\w+) ADD COLUMN ([\s\S]+)$/.exec(sql);
  if (column) return `ALTER TABLE ${column[1]} ADD COLUMN ${columnFor(column[2]!).definition}`;
  const index = /^CREATE (UNIQUE )?INDEX (\w+) ON (\w+) \(([^)]*)\)$/.exec(sql);
  if (index) return `CREATE ${index[1] ?? ''}INDEX ${index[2]} ON ${index[3]} (site, ${index[4]})`;
  if (/^DROP (INDEX|TABLE) \w+$/.test(sql)) return sql;
  throw new Error(`this step of the schema is not known to PostgreSQL: ${sql}`);
}

/** Keys and references hold within a site; lines are numbered as in SQLite. */
function tableFor(name: string, inside: string): string {
  const parts = splitParts(inside).map((part) =>
    isRule(part) ? { ...ruleFor(part), isNumbered: false } : columnFor(part),
  );
  const definitions = [
    ...parts.map(({ definition }) => definition),
    SITE,
    ...parts.flatMap(({ rules }) => rules),
  ];
  const statements = [`CREATE TABLE ${name} (${definitions.filter(Boolean).join(', ')})`];
  if (parts.some(({ isNumbered }) => isNumbered))
    statements.push(
      `CREATE TRIGGER numbered BEFORE INSERT ON ${name} FOR EACH ROW WHEN (NEW.no IS NULL) EXECUTE FUNCTION next_no()`,
    );
  statements.push(
    `ALTER TABLE ${name} ENABLE ROW LEVEL SECURITY, FORCE ROW LEVEL SECURITY`,
    `CREATE POLICY of_the_store ON ${name} TO CURRENT_USER USING (site = current_setting('ebbline.site'))`,
  );
  return statements.join(';\n');
}

const isRule = (part: string): boolean => /^(PRIMARY KEY|UNIQUE|CHECK|FOREIGN KEY) ?\(/.test(part);

const ruleFor = (part: string): { definition: string; rules: string[] } => ({
  definition: '',
  rules: [part.replace(/^(PRIMARY KEY|UNIQUE) ?\(/, '$1 (site, ')],
});

interface Column {
  definition: string;
  rules: string[];
  /** It is a line number assigned by the database. */
  isNumbered: boolean;
}

const TYPES: Record<string, string> = {
  INTEGER: 'bigint',
  REAL: 'double precision',
  // As SQLite compares: byte by byte.
  TEXT: 'text COLLATE "C"',
  BLOB: 'bytea',
};

function columnFor(part: string): Column {
  const [, name, type, more] = /^(\w+) (INTEGER|REAL|TEXT|BLOB)\b([\s\S]*)$/.exec(part) ?? [];
  if (name === undefined) throw new Error(`this column is not known to PostgreSQL: ${part}`);
  const rules: string[] = [];
  let rest = more!;
  rest = rest.replace(' PRIMARY KEY', () => {
    rules.push(`PRIMARY KEY (site, ${name})`);
    return ' NOT NULL';
  });
  rest = rest.replace(' UNIQUE', () => {
    rules.push(`UNIQUE (site, ${name})`);
    return '';
  });
  rest = rest.replace(/ REFERENCES (\w+) \((\w+)\)/, (_all, table: string, key: string) => {
    rules.push(`FOREIGN KEY (site, ${name}) REFERENCES ${table} (site, ${key})`);
    return '';
  });
  const isMadeOf = /^([\s\S]*?)\bAS \(([\s\S]*)\) VIRTUAL$/.exec(rest.trim());
  const nocase = rest.includes('COLLATE NOCASE');
  const pgType = nocase ? 'text COLLATE nocase' : TYPES[type!]!;
  if (isMadeOf) {
    const made = withoutExtract(isMadeOf[2]!).replace(
      type === 'REAL' ? /\(\([^()]*(?:\([^()]*\))?[^()]*\)::json ->> '\w+'\)/ : /$^/,
      (found) => `${found}::double precision`,
    );
    const notNull = isMadeOf[1]!.includes('NOT NULL') ? ' NOT NULL' : '';
    return {
      definition: `${name} ${pgType}${notNull} GENERATED ALWAYS AS (${made}) STORED`,
      rules,
      isNumbered: false,
    };
  }
  return {
    definition: `${name} ${pgType}${rest.replace(' COLLATE NOCASE', '')}`,
    rules,
    isNumbered: name === 'no' && rules.some((rule) => rule.startsWith('PRIMARY')),
  };
}

/** @returns the parts between commas outside brackets */
function splitParts(inside: string): string[] {
  const parts = [''];
  let depth = 0;
  for (const sign of inside) {
    if (sign === '(') depth++;
    if (sign === ')') depth--;
    if (sign === ',' && depth === 0) parts.push('');
    else parts[parts.length - 1] += sign;
  }
  return parts.map((part) => part.replaceAll(/\s+/g, ' ').trim());
}
