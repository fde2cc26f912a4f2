#!/bin/sh
# Makes the certificates anew, for another year, with the keys and names they have: sh deploy/renew.sh [FOLDER]
# Copy each server.pem to where it is used; broker and database then need a reload, a board takes its own within the hour.
set -eu
umask 077
here=$(cd "$(dirname "$0")" && pwd)
cd "${1:-$here/secrets}"
for part in broker database board; do
  openssl x509 -x509toreq -copy_extensions copyall -in "$part/server.pem" -signkey "$part/server.key" -out "$part/request" 2>/dev/null
  openssl x509 -req -copy_extensions copyall -in "$part/request" -CA authority/ca.pem -CAkey authority/ca.key -CAcreateserial \
    -days "${DAYS:-365}" -out "$part/renewed.pem" 2>/dev/null
  mv "$part/renewed.pem" "$part/server.pem"
  rm "$part/request"
done
echo "Renewed until $(openssl x509 -noout -enddate -in board/server.pem | cut -d= -f2)."
