#!/bin/sh
# Installs TypeScript's checker into .build, where `make lint` finds it. The release is
# pinned here. npm is asked for, and installed where the system has it.
set -eu
cd "$(dirname "$0")/../.."

release=7.0.2
checker=.build/tsc/node_modules/.bin/tsc
if [ -x "$checker" ] && [ "$("$checker" --version)" = "Version $release" ]; then exit 0; fi

if ! command -v npm >/dev/null 2>&1; then
	if ! command -v apt-get >/dev/null 2>&1; then
		echo "The scripts of the page are checked by TypeScript, which npm installs. Install npm, then run this again." >&2
		exit 1
	fi
	sudo=""
	if [ "$(id -u)" -ne 0 ]; then sudo="sudo"; fi
	$sudo apt-get update -qq
	$sudo apt-get install -y -qq --no-install-recommends npm
fi
npm install --silent --no-save --no-audit --no-fund --prefix .build/tsc "typescript@$release"
"$checker" --version
