#!/bin/sh
# The login that owns the feeds: it may make roles, and is bound by rights to rows like everybody.
set -eu
psql -v ON_ERROR_STOP=1 -U "$POSTGRES_USER" -d "$POSTGRES_DB" -v password="$(cat /secrets/database-password)" <<'SQL'
CREATE ROLE ebbline LOGIN CREATEROLE PASSWORD :'password';
ALTER DATABASE ebbline OWNER TO ebbline;
SQL
