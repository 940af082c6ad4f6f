#!/bin/sh
# Loads the counter box: sh load.sh PORT
if [ -z "$1" ]; then echo "say the port: sh load.sh /dev/ttyUSB0" >&2; exit 2; fi
if ! command -v avrdude >/dev/null; then echo "install the loader first: apt install avrdude, or brew install avrdude" >&2; exit 2; fi
cd "$(dirname "$0")" && exec avrdude -p atmega328p -c stk500v1 -b 115200 -D -P "$1" -U flash:w:counterbox.hex:i
