# Benchmeet. "make" lists the targets.

SHELL := /bin/bash
GO ?= go
BIN := bin/benchmeet
# What the tests need beside Go, Node and make, as Debian's packages.
TEST_PACKAGES := gcc libc6-dev chromium firefox-esr webkit2gtk-driver xvfb postgresql strace qemu-user-static poppler-utils libnss3-tools openssl gcc-avr avr-libc libsimavr-dev libelf-dev

.DEFAULT_GOAL := help
.PHONY: help run build binaries package generate test test-go test-prove prove test-arm64 test-web test-e2e lint fmt bench bench-live bench-append screenshots setup web fuzz counterbox clean

help: ## list the targets
	@grep -hE '^[a-z0-9-]+:.*##' $(MAKEFILE_LIST) | sed -E 's/^([a-z0-9-]+):.*## (.*)/\1\t\2/' | expand -t 16

run: build ## build all and start the server with an example meet in motion
	./$(BIN) serve --example --new-sign-in --data benchmeet-data

build: web ## build the binary with its pages
	$(GO) build -trimpath -o $(BIN) ./cmd/benchmeet

# What other machines run: no libraries, and the time zones in it, for a container has none.
ARCHS := amd64 arm64
# The newest change is the version, until there are releases.
VERSION ?= 0.0.0+$(shell TZ=UTC git log -1 --format=%cd --date=format-local:%Y%m%d%H%M%S)

binaries: ## the program for other machines, in bin/linux-amd64 and bin/linux-arm64: server and node
	@for arch in $(ARCHS); do \
	  CGO_ENABLED=0 GOOS=linux GOARCH=$$arch $(GO) build -trimpath -tags timetzdata -ldflags="-s -w" -o bin/linux-$$arch/benchmeet ./cmd/benchmeet || exit 1; \
	done

# The packager has a module of its own, as the linters have.
bin/nfpm: tools/package/go.mod tools/package/go.sum
	cd tools/package && $(GO) build -o ../../bin/nfpm github.com/goreleaser/nfpm/v2/cmd/nfpm

package: binaries bin/nfpm ## Debian packages of both, in bin (deploy/server says how a server is run)
	@for arch in $(ARCHS); do \
	  ARCH=$$arch VERSION=$(VERSION) ./bin/nfpm package --config deploy/server/nfpm.yaml --packager deb \
	    --target bin/benchmeet_$(VERSION)_$$arch.deb || exit 1; \
	done

web: web/node_modules/.package-lock.json ## build the pages into web/dist
	cd web && npm run build

web/node_modules/.package-lock.json: web/package.json web/package-lock.json
	cd web && npm ci --no-audit --no-fund --loglevel=error
	@touch $@

generate: ## make the server's types from api/openapi.yaml
	$(GO) generate ./api/gen

test: setup lint test-web test-e2e test-go test-prove test-arm64 ## everything: lint, both stores, race detector, browser
	@echo "make test: all passed"

test-go: ## Go tests with the race detector, on SQLite and on PostgreSQL
	BENCHMEET_TEST_ALL=1 $(GO) test -race -timeout 40m -skip '^TestProve' ./...

test-prove: ## a share of the long simulations, without the race detector: they are arithmetic, and many
	$(GO) test -run '^TestProve' -timeout 20m ./domain/... ./bracket/... ./api/... ./cmd/... ./deploy/...

prove: ## all of the long simulations (BENCHMEET_PROVE=1), the better part of an hour
	BENCHMEET_PROVE=1 $(GO) test -count=1 -v -run '^TestProve' -timeout 120m ./domain/... ./bracket/... ./api/... ./cmd/... ./deploy/...

test-arm64: ## replay the golden logs as an arm64 program, emulated: the same state to the byte
	@for pkg in meet club; do \
	  GOARCH=arm64 CGO_ENABLED=0 $(GO) test -c -o bin/$$pkg.arm64.test ./domain/$$pkg || exit 1; \
	  (cd domain/$$pkg && qemu-aarch64-static ../../bin/$$pkg.arm64.test -test.run 'TestGolden|TestDay') || exit 1; \
	done

test-web: web/node_modules/.package-lock.json ## the pages' own tests
	cd web && npm run check && npm test

test-e2e: build ## browser tests: real pages, a real server, Debian's Chromium, Firefox and WebKit
	cd web && BENCHMEET_BINARY=$(CURDIR)/$(BIN) npx playwright test

screenshots: build ## a picture of every page at desktop, phone and hall size, in web/screenshots
	cd web && BENCHMEET_BINARY=$(CURDIR)/$(BIN) npx playwright test --config playwright.screenshots.config.ts

# The linters have a module of their own, so that their many dependencies are not ours.
bin/golangci-lint: tools/lint/go.mod tools/lint/go.sum
	cd tools/lint && $(GO) build -o ../../bin/golangci-lint github.com/golangci/golangci-lint/v2/cmd/golangci-lint

lint: web/node_modules/.package-lock.json bin/golangci-lint ## format, the linters of .golangci.yml, ESLint, generated code and modules up to date
	@out=$$($(GO) tool gofumpt -l $$(git ls-files '*.go' | grep -v '^api/gen/')); \
	if [ -n "$$out" ]; then echo "not formatted (make fmt):"; echo "$$out"; exit 1; fi
	./bin/golangci-lint run --allow-parallel-runners ./...
	$(GO) mod verify >/dev/null
	cd web && npm run lint
	@cp api/gen/api.gen.go /tmp/benchmeet-gen-$$$$.go; $(GO) generate ./api/gen; \
	if ! cmp -s api/gen/api.gen.go /tmp/benchmeet-gen-$$$$.go; then \
	  echo "api/gen is not what api/openapi.yaml gives: make generate, and commit it"; rm /tmp/benchmeet-gen-$$$$.go; exit 1; fi; \
	rm /tmp/benchmeet-gen-$$$$.go

fmt: web/node_modules/.package-lock.json ## format the Go code and the browser code
	$(GO) tool gofumpt -w $$(git ls-files '*.go' | grep -v '^api/gen/')
	cd web && npm run format

bench: ## Go benchmarks, each beside its floor
	$(GO) test -run '^$$' -bench . -benchtime 1s ./domain/... ./bracket/... ./api/...

bench-live: ## the live feed beside bare broadcast servers, server and listeners on a core each (Linux, two cores)
	$(GO) test -run '^$$' -bench '^BenchmarkFanOut$$' -benchtime 1x -timeout 20m ./api/live
	$(GO) test -run '^$$' -bench '^(BenchmarkFeedOrders|BenchmarkJSONOrder)$$' -benchtime 1x -timeout 20m ./cmd/benchmeet

bench-append: ## orders on disk beside bare programs that write the same rows
	$(GO) test -run '^$$' -bench '^BenchmarkAppend$$' -benchtime 1x -timeout 20m ./api/ledger
	$(GO) test -run '^$$' -bench '^BenchmarkAppendHTTP$$' -benchtime 1x -timeout 20m ./cmd/benchmeet

fuzz: ## fuzz every decoder for half a minute each
	@for pkg in $$($(GO) list ./...); do \
	  for f in $$($(GO) test -list '^Fuzz' $$pkg 2>/dev/null | grep '^Fuzz'); do \
	    echo "$$pkg $$f"; $(GO) test -run '^$$' -fuzz "^$$f$$" -fuzztime 30s $$pkg || exit 1; \
	  done; done

counterbox: setup ## build the counter box's program for the 8-bit board and check it on an emulated one
	$(MAKE) -C deploy/counterbox all
	$(GO) test ./deploy/counterbox

setup: ## install what the tests need, where it is missing (Debian)
	@need=""; \
	command -v gcc >/dev/null || need=1; command -v strace >/dev/null || need=1; command -v pdftotext >/dev/null || need=1; command -v certutil >/dev/null || need=1; \
	command -v avr-gcc >/dev/null || need=1; [ -f /usr/include/simavr/sim_avr.h ] || need=1; [ -f /usr/include/gelf.h ] || need=1; \
	[ -x /usr/bin/chromium ] || need=1; [ -x /usr/bin/firefox-esr ] || need=1; \
	command -v WebKitWebDriver >/dev/null || need=1; command -v Xvfb >/dev/null || need=1; command -v qemu-aarch64-static >/dev/null || need=1; ls /usr/lib/postgresql/*/bin/postgres >/dev/null 2>&1 || need=1; \
	if [ -n "$$need" ]; then \
	  sudo=""; [ "$$(id -u)" = 0 ] || sudo=sudo; \
	  export DEBIAN_FRONTEND=noninteractive; \
	  $$sudo apt-get update -qq && $$sudo apt-get install -y -qq --no-install-recommends $(TEST_PACKAGES) >/dev/null; \
	fi

clean: ## remove what was built
	rm -rf bin web/.fonts web/dist/assets web/dist/*.html.gz web/dist/*.html.br web/node_modules deploy/counterbox/build
