#!/bin/sh
# Runs a test program built for the browser under node; for go test -exec.
here=$(dirname "$0")
exec node --stack-size=8192 --require "$here/browser.js" "$(go env GOROOT)/lib/wasm/wasm_exec_node.js" "$@"
