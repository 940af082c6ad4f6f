#!/bin/sh
# Restores a copy into a folder of its own, erases again whoever was erased since, and
# starts a server on it: what was never restored is no backup.
#
#   restore-drill COPY [LATER]
#
# COPY is a backup or an export, LATER the newest export, which may be one without people.
# The folder is removed in the end; with KEEP=FOLDER it is that one, and stays.
set -eu
umask 077
program=${BENCHMEET:-benchmeet}
if [ $# -lt 1 ] || [ $# -gt 2 ]; then
	echo "usage: restore-drill COPY [LATER]" >&2
	exit 2
fi
# What the environment says of the real data is not for a drill.
unset BENCHMEET_DATABASE BENCHMEET_DATA BENCHMEET_LISTEN BENCHMEET_TLS
server=
if [ -n "${KEEP:-}" ]; then
	folder=$KEEP
	mkdir "$folder"
else
	folder=$(mktemp -d)
fi
cleanup() {
	[ -z "$server" ] || kill "$server" 2>/dev/null || true
	[ -n "${KEEP:-}" ] || rm -rf "$folder"
}
trap cleanup EXIT

for file in "$@"; do
	"$program" verify "$file"
	"$program" import "$file" --data "$folder"
done
"$program" verify --data "$folder"

said=$folder/said
"$program" serve --listen 127.0.0.1:0 --data "$folder" >"$said" 2>&1 &
server=$!
tries=0
until grep -q 'is running' "$said"; do
	tries=$((tries + 1))
	if [ "$tries" -gt 300 ] || ! kill -0 "$server" 2>/dev/null; then
		cat "$said" >&2
		echo "the server does not start on what was restored" >&2
		exit 1
	fi
	sleep 0.1
done
kill "$server"
wait "$server" || true
server=
rm "$said" # it holds a sign-in
echo "The copy can be restored: $1"
