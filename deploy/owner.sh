#!/bin/sh
# The login that owns the feeds: it may make roles, and is bound by rights to rows like everybody. Its password: the first line of
# PASSWORD_FILE, "-" for what comes in.
set -eu
EBBLINE_PASSWORD=$(cat "${PASSWORD_FILE:-/secrets/database-password}")
export EBBLINE_PASSWORD
psql -v ON_ERROR_STOP=1 -U "$POSTGRES_USER" -d "$POSTGRES_DB" <<'SQL'
\getenv password EBBLINE_PASSWORD
CREATE ROLE ebbline LOGIN CREATEROLE PASSWORD :'password';
SELECT format('ALTER DATABASE %I OWNER TO ebbline', current_database()) \gexec
SQL
