/** Grants and revokes access: logins of the database server, each with a role at a site (see rights.ts). */
import { PlainError } from '../../base/errors.ts';
import { inTransaction } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import type { StaffRole } from './rights.ts';

export interface Grant {
  /** A login of the database server, which its administrator has made. */
  login: string;
  role: StaffRole;
  /** Id of the child: for a parent the own child, for a researcher a child whose family takes part. */
  baby?: string;
  /** For a researcher: the child's code in the study. */
  code?: string;
}

const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;

const invalid = (message: string, remedy: string): PlainError =>
  new PlainError('grant-invalid', message, remedy);

/** Repeating it changes nothing. @throws PlainError grant-invalid */
export function admit(database: FeedDatabase, { login, role, baby, code }: Grant): void {
  const needsBaby = role === 'parent' || role === 'researcher';
  if (needsBaby !== (baby !== undefined) || (role === 'researcher') !== (code !== undefined))
    throw invalid(
      'A parent is admitted to one child, a researcher to one child under a code, staff to all of the site.',
      'Name the child with its number, and for a researcher the code.',
    );
  inTransaction(database, () => {
    if (database.prepare('SELECT 1 FROM pg_roles WHERE rolname = ?').all(login).length === 0)
      throw invalid(
        `The database server knows no login ${login}.`,
        'Ask who administers it to make one: CREATE ROLE … LOGIN PASSWORD …',
      );
    if (role === 'researcher')
      database
        .prepare(
          `INSERT INTO study_grant (login, baby_id, code) VALUES (?, ?, ?)
           ON CONFLICT (login, baby_id) DO UPDATE SET code = excluded.code`,
        )
        .run(login, baby, code);
    else
      database
        .prepare('INSERT INTO access (login, role, baby_id) VALUES (?, ?, ?) ON CONFLICT DO NOTHING')
        .run(login, role, baby ?? '');
    database.exec(`GRANT ebbline_${role} TO ${quoted(login)}`);
  });
}

/** Without `baby`: all grants of this login in this role at this site. Effective at once. */
export function dismiss(database: FeedDatabase, { login, role, baby }: Omit<Grant, 'code'>): void {
  const [table, ofRole] = role === 'researcher' ? ['study_grant', ''] : ['access', `AND role = '${role}'`];
  database
    .prepare(`DELETE FROM ${table} WHERE login = ? ${ofRole} AND (baby_id = ? OR ? = 1)`)
    .run(login, baby ?? '', Number(baby === undefined));
}
