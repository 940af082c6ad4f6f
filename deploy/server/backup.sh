#!/bin/sh
# Copies the data beside a running server, looks at the copy, and deletes copies whose days
# are over. Beside each copy lies an export without people: it holds whom to erase again
# from an older copy, and what happened since. Where several clubs share the server, exports
# are one a club.
set -eu
umask 077
program=${BENCHMEET:-benchmeet}
to=${BENCHMEET_BACKUPS:-${BENCHMEET_DATA:-benchmeet-data}/backups}
days=${BENCHMEET_BACKUP_DAYS:-30}
name=$(date -u +%Y-%m-%dT%H%M%SZ)

mkdir -p "$to"
clubs=$("$program" club list --ids)
several=$(echo "$clubs" | sed -n 2p)
named() { echo "$1${several:+-$2}.benchmeet"; }
case ${BENCHMEET_DATABASE:-} in
postgres://* | postgresql://*)
	for club in $clubs; do
		copy=$(named "$to/copy-$name" "$club")
		"$program" export "$copy" --club "$club" --keep-days "$days" >"$copy.json"
		"$program" verify "$copy"
		copies="${copies:-}$copy
"
	done
	;;
*)
	copy=$to/copy-$name.db
	"$program" backup "$copy" --keep-days "$days"
	"$program" verify "$copy"
	copies=$copy
	;;
esac
for club in $clubs; do
	"$program" export "$(named "$to/later-$name" "$club")" --club "$club" --without-people --keep-days "$days" >/dev/null
done

find "$to" -maxdepth 1 -type f -name 'later-*' ! -name "later-$name*" -delete
find "$to" -maxdepth 1 -type f -name 'copy-*' -mtime +"$days" -delete
echo "$copies"
