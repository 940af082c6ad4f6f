#!/bin/sh
# Copies the data beside a running server, looks at the copy, and deletes copies whose days
# are over. Beside each copy lies an export without people: it holds whom to erase again
# from an older copy, and what happened since.
set -eu
umask 077
program=${BENCHMEET:-benchmeet}
to=${BENCHMEET_BACKUPS:-${BENCHMEET_DATA:-benchmeet-data}/backups}
days=${BENCHMEET_BACKUP_DAYS:-30}
name=$(date -u +%Y-%m-%dT%H%M%SZ)

mkdir -p "$to"
case ${BENCHMEET_DATABASE:-} in
postgres://* | postgresql://*)
	copy=$to/copy-$name.benchmeet
	"$program" export "$copy" --keep-days "$days" >"$copy.json"
	;;
*)
	copy=$to/copy-$name.db
	"$program" backup "$copy" --keep-days "$days"
	;;
esac
"$program" verify "$copy"
later=$to/later-$name.benchmeet
"$program" export "$later" --without-people --keep-days "$days" >/dev/null

find "$to" -maxdepth 1 -type f -name 'later-*' ! -name "later-$name*" -delete
find "$to" -maxdepth 1 -type f -name 'copy-*' -mtime +"$days" -delete
echo "$copy"
