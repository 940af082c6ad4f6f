#!/bin/sh
set -e
if [ -z "${DPKG_ROOT:-}" ] && [ -d /run/systemd/system ]; then
	systemctl daemon-reload
fi
# Nobody loses a season by removing a program; names are not left behind unsaid either.
if [ "$1" = purge ] && [ -d "${DPKG_ROOT:-}/var/lib/private/benchmeet" ]; then
	echo "The data stays in /var/lib/private/benchmeet. It holds names of children: delete it when it is no longer needed."
fi
