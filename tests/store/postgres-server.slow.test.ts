/** The server that other tests use: it runs, refuses connections without a password, and recovers after a kill. */
import { describe, expect, it } from 'vitest';
import { createTestPostgres, noPostgres, sharedPostgres } from '../support/postgres.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

describe.skipIf(noPostgres !== null)('a PostgreSQL for tests', () => {
  it('gives each test a database of its own, owned by a login that is no administrator', async () => {
    const server = await sharedPostgres();
    const [one, other] = [server.freshDatabase(), server.freshDatabase()];
    server.sqlAs(one.user, one.name, 'CREATE TABLE here (n integer)');
    expect(() => server.sqlAs(other.user, other.name, 'SELECT * FROM here')).toThrow(/does not exist/);
    expect(server.sqlAs(one.user, one.name, "SELECT current_setting('is_superuser')")).toEqual(['off']);
  });

  it('keeps what was committed through a cut and a new start', async () => {
    const server = await createTestPostgres({ folder: temporaryFolder() });
    await server.start();
    const { name, user } = server.freshDatabase();
    server.sqlAs(user, name, 'CREATE TABLE kept (n integer); INSERT INTO kept VALUES (7)');
    await server.kill();
    expect(() => server.sql(name, 'SELECT 1')).toThrow(/refused/);
    await server.start();
    expect(server.sql(name, 'SELECT n FROM kept')).toEqual(['7']);
  });
});
