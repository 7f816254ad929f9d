# The front door. Everything is built by CMake; this file only names what people ask for.
.DELETE_ON_ERROR:
.NOTPARALLEL: # each step takes all cores itself
.PHONY: run build wasm page check check-long evaluate bench bench-page fuzz format clean install deb dist

JOBS ?= $(shell nproc)
RELEASE := build/release
BAITFALL := $(RELEASE)/baitfall
PREFIX ?= /usr/local
PORT ?= 8190

# Installs what is missing (no test packages), builds, prints a first useful answer, builds the page and serves it.
run: build
	@echo
	@$(BAITFALL) demo
	@echo
	@$(MAKE) --no-print-directory page
	@echo
	@$(BAITFALL) serve --port $(PORT) --folder build/page

build:
	@scripts/bootstrap run
	@cmake --preset release >/dev/null
	@cmake --build build/release -j $(JOBS)

# The static folder build/page and the same as page.zip: any HTTPS host can hold it.
page: wasm
	@cd page && node build.mjs

wasm:
	@scripts/bootstrap run
	@cmake --preset wasm -Wno-dev >/dev/null
	@cmake --build build/wasm -j $(JOBS)

check:
	@scripts/bootstrap tests
	@scripts/check

# The same with the tests' full samples: up to an hour.
check-long:
	@scripts/bootstrap long
	@BF_LONG=1 scripts/check

# Does the belief mean what it says: made-up hours by the thousand, planted faults; an hour and a half on two cores. Is the advice worth following: nine
# made-up worlds, 100 sessions each; two hours on two cores. Both are taken up where they were left.
evaluate:
	@scripts/bootstrap run
	@cmake --preset release -B build/evaluation -DBF_EVALUATE=ON >/dev/null
	@cmake --build build/evaluation -j $(JOBS) --target evaluate ladder
	@scripts/evaluate build/evaluation/evaluate
	@scripts/ladder build/evaluation/ladder

# Ours and general-purpose programs on the same work, in one run. bench/run quick leaves the others out.
bench: build wasm
	@scripts/bootstrap bench
	@cmake --preset release -B build/bench -DBF_BENCH=ON >/dev/null
	@cmake --build build/bench -j $(JOBS)
	@bench/run

# What a step of the plan takes on the screen, at full speed and at a sixth of it.
bench-page: build page
	@scripts/bootstrap tests
	@BF_PAGE=$(CURDIR)/build/page BF_BAITFALL=$(CURDIR)/$(BAITFALL) node bench/page.mjs

# Each libFuzzer target for 60 s; anything found is left in build/fuzz.
fuzz:
	@scripts/bootstrap tests
	@scripts/fuzz 60

format:
	@git ls-files '*.c' '*.h' | xargs clang-format -i

# The program with its page, man page and completions, and the library with its headers.
install: build page
	@DESTDIR=$(DESTDIR) cmake --install $(RELEASE) --prefix $(PREFIX)

# Two Debian packages in build/deb: baitfall and libbaitfall-dev.
deb: build page
	@scripts/deb $(RELEASE) build/deb

# The sources of the newest commit in build/dist: the same commit, the same bytes.
dist:
	@scripts/dist build/dist

clean:
	@rm -rf build
