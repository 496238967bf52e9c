# Threeply's build. A bare `make` lists the targets; the work is done by the Go
# programs under tools/, so that nothing but Go, make and a Debian-like system is asked for.

export GOFLAGS := -p=2 -trimpath
export CGO_ENABLED := 0
SITE := .build/site
STATICCHECK := honnef.co/go/tools/cmd/staticcheck

.DEFAULT_GOAL := help
.PHONY: help run build bundle demo test unit browser shots bench sweep release lint check vet staticcheck shaders types

help: ## list the targets
	@awk -F ':.*## ' '/^[a-z]+:.*## /{printf "  make %-8s %s\n", $$1, $$2}' $(MAKEFILE_LIST)

run: build ## build the page and serve it on this machine
	@go run ./tools/serve -dir $(SITE)

build: ## build the static page into .build/site
	@go run ./tools/bundle -o $(SITE)

bundle: build ## build the page as one HTML file, .build/threeply.html
	@go run ./tools/release -one .build/threeply.html -site $(SITE)

demo: ## make the demo plates of testdata anew, after a change to what draws them
	@go run ./tools/bundle -demo

# The browser tests wait a good deal: all else takes what of the machine they leave. Compilers and
# tests collect their garbage less often.
test: export GOGC := 300
test: ## everything: gofmt and types, Go tests, browser tests
	@$(MAKE) --no-print-directory -j2 browser unit

# go vet is a part of make lint: with what it asks of every dependency it takes as long as
# a tenth of all tests. The command's tests come one after the other: they begin first, lest a core wait for them at the end.
unit: check ## Go tests without a browser
	nice -n 10 go test -vet=off -ldflags='-s -w' -timeout 60m ./tools/threeply ./tools/... ./wasm/... ./proof/...

browser: build ## tests of the built page in Chromium
	@sh tools/browsertest/chromium.sh
	THREEPLY_BROWSER=1 go test -vet=off -ldflags='-s -w' -count=1 -timeout 30m -v ./tools/browsertest

shots: build ## screenshots of every station into .build/shots
	@sh tools/browsertest/chromium.sh
	THREEPLY_BROWSER=1 THREEPLY_SHOTS=.build/shots go test -count=1 -v -run '^TestShots$$' ./tools/browsertest

bench: ## speed and memory, native and WebAssembly, as one table
	@go run ./tools/bench

sweep: ## judge register on many held-out sets of photographs and plates, which takes minutes
	THREEPLY_SWEEP=1 go test -count=1 -timeout 60m -v -run '^TestSweep' ./proof/register

release: build ## command lines for Linux, macOS and Windows, and the page, with checksums, into .build/release
	@go run ./tools/release -site $(SITE)

lint: check vet staticcheck shaders ## what stands in check, go vet, staticcheck, and whether the shaders compile

check: types ## gofmt, the types of the scripts
	@unformatted=$$(gofmt -l proof tools wasm); \
	if [ -n "$$unformatted" ]; then echo "gofmt needed:"; echo "$$unformatted"; exit 1; fi

vet:
	nice -n 10 go vet ./...
	GOOS=js GOARCH=wasm nice -n 10 go vet ./wasm/...

# The checker runs natively and is told to look at the page's code as js/wasm. Drawing on
# demand needs calls that the pinned Ebitengine marks as deprecated (SA1019).
staticcheck:
	@if grep -q '$(STATICCHECK)' go.mod; then \
		go build -o .build/staticcheck $(STATICCHECK) && \
		echo ".build/staticcheck ./..." && .build/staticcheck ./... && \
		echo "GOOS=js GOARCH=wasm .build/staticcheck ./wasm/..." && GOOS=js GOARCH=wasm .build/staticcheck -checks inherit,-SA1019 ./wasm/...; \
	else echo "staticcheck: not a tool of go.mod, left out"; fi

# In make test the browser tests compile the shaders, in every look.
shaders:
	@if command -v node >/dev/null; then \
		GOOS=js GOARCH=wasm go test -vet=off -exec "$$PWD/wasm/page/screen/testdata/node.sh" ./wasm/page/screen; \
	else echo "SKIPPED: the shader is compiled by the browser tests only (node is not here)"; fi

# The scripts of the page against web/types, of which tools/types writes a part.
TSC := .build/tsc/node_modules/.bin/tsc
types:
	@if [ -x $(TSC) ]; then echo "tsc -p web" && $(TSC) -p web; \
	else echo "types: SKIPPED, no TypeScript in .build (sh tools/types/install.sh brings it)"; fi
