#!/bin/sh
# Makes an authority, certificates and passwords of this house's own, once:
#   sh deploy/secrets.sh [FOLDER [BROKER [BOARD [DATABASE]]]]
# The names are those by which other computers reach each of the three. What is there already is not touched.
# Certificates last for a year; renew.sh makes new ones.
set -eu
umask 077
here=$(cd "$(dirname "$0")" && pwd)
folder=${1:-$here/secrets}
broker=${2:-broker}
board=${3:-board}
database=${4:-database}
if [ -e "$folder" ]; then echo "$folder is there already: nothing was made." >&2; exit 2; fi
for part in authority broker database board work relay; do mkdir -p "$folder/$part"; done
cd "$folder"
password() { openssl rand -hex 24; }
openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:P-256 -nodes -days 1825 -subj '/CN=Authority of this house' \
  -keyout authority/ca.key -out authority/ca.pem 2>/dev/null
# For its name, that of its container, and this computer.
certificate() {
  openssl req -newkey ec -pkeyopt ec_paramgen_curve:P-256 -nodes -subj "/CN=$2" -keyout "$1/server.key" -out "$1/request" 2>/dev/null
  printf 'subjectAltName=DNS:%s,DNS:%s,DNS:localhost,IP:127.0.0.1\n' "$2" "$1" > "$1/names"
  openssl x509 -req -in "$1/request" -CA authority/ca.pem -CAkey authority/ca.key -CAcreateserial -days 365 \
    -extfile "$1/names" -out "$1/server.pem" 2>/dev/null
  rm "$1/request" "$1/names"
}
certificate broker "$broker"
certificate database "$database"
certificate board "$board"
for who in work relay board; do cp authority/ca.pem "$who/ca.pem"; password > "$who/broker-password"; done
printf 'workers:%s\nrelays:%s\nboard:%s\n' "$(cat work/broker-password)" "$(cat relay/broker-password)" \
  "$(cat board/broker-password)" > broker/users
mosquitto_passwd -U broker/users
# A relay may not ask for another's note, nor answer as a guide; a board hears how sleeves are, and may stop one.
cat > broker/acl <<'ACL'
user workers
topic readwrite ebbline/1/#
user relays
topic write ebbline/1/+/+/+/from
topic write ebbline/1/+/+/+/wanted
topic readwrite ebbline/1/+/+/+/relay
topic read ebbline/1/+/+/+/to
topic read ebbline/1/+/+/+/note
topic read ebbline/1/+/+/+/stop
user board
topic read ebbline/1/+/+/+/state
topic write ebbline/1/+/+/+/stop
ACL
password > database/admin-password
password > database/database-password
for who in work board; do cp database/database-password "$who/database-password"; done
password > board/sign-in-secret
echo "Made in $folder. Keep authority/ca.key away from the network; give relay/ to each computer by the cots."
echo "At your OpenID Connect provider enter the client ebbline with the secret in board/sign-in-secret (or write the provider's own into it)"
echo "and the redirect address https://$board/signed-in."
