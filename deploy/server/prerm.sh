#!/bin/sh
set -e
if [ "$1" = remove ] && [ -z "${DPKG_ROOT:-}" ] && [ -d /run/systemd/system ]; then
	systemctl disable --now benchmeet-backup.timer benchmeet.service || true
fi
