#!/bin/sh
set -e
# In a root that is only being filled there is nothing to tell.
if [ -z "${DPKG_ROOT:-}" ] && [ -d /run/systemd/system ]; then
	systemctl daemon-reload
	systemctl try-restart benchmeet.service || true
fi
if [ "$1" = configure ] && [ -z "$2" ]; then
	echo "Benchmeet is installed. Start it with: systemctl enable --now benchmeet benchmeet-backup.timer"
	echo "The organiser's sign-in is then in: journalctl -u benchmeet"
fi
