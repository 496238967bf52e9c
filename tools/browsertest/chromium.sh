#!/bin/sh
# Makes sure that a Chromium stands ready for the browser tests.
set -eu

for name in chromium chromium-browser google-chrome; do
	if command -v "$name" >/dev/null 2>&1; then exit 0; fi
done

if ! command -v apt-get >/dev/null 2>&1; then
	echo "The browser tests need Chromium. Install it so that 'chromium' is on the PATH, then run make test again." >&2
	exit 1
fi

sudo=""
if [ "$(id -u)" -ne 0 ]; then sudo="sudo"; fi
echo "Installing Chromium for the browser tests."
if ! { $sudo apt-get update -qq && $sudo apt-get install -y -qq --no-install-recommends chromium; }; then
	echo "Chromium could not be installed. Install it by hand so that 'chromium' is on the PATH, then run make test again." >&2
	exit 1
fi
