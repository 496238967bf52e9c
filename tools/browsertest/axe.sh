#!/bin/sh
# Installs axe-core, which checks a page's accessibility, into .build, where the browser
# tests find it; where it is missing they say so and go on. The release is pinned here.
set -eu
cd "$(dirname "$0")/../.."

release=4.10.3
if [ -e .build/axe/node_modules/axe-core/axe.min.js ] && grep -q "\"version\": \"$release\"" .build/axe/node_modules/axe-core/package.json; then exit 0; fi
if ! command -v npm >/dev/null 2>&1; then
	echo "axe-core is left out: npm is not here (sh tools/types/install.sh brings it)" >&2
	exit 0
fi
npm install --silent --no-save --no-audit --no-fund --prefix .build/axe "axe-core@$release"
