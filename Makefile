# plugwright: `make help` lists what can be made.
VARIANT ?= release
VARIANTS = release san coverage fuzz portable mutants
$(if $(filter $(VARIANT),$(VARIANTS)),,$(error VARIANT is one of: $(VARIANTS)))

CFLAGS  ?= -O2 -g
PREFIX  ?= /usr/local
BINDIR  ?= $(PREFIX)/bin

B        = out/$(VARIANT)
BIN      = out/bin/plugwright
APPLE    = $(filter Darwin,$(shell uname -s))
PACKAGES = yaml-0.1 jansson $(if $(APPLE),,libmd) libutf8proc minizip
WARN     = -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes \
           -Wmissing-prototypes -Wwrite-strings -Wvla
OPT_san      = -fsanitize=address,undefined -fno-sanitize-recover=all -DARENA_WATCHED
OPT_coverage = --coverage -O0
OPT_portable = -DPORTABLE
OPT_mutants  = -fPIC
OPT_fuzz     = -fsanitize=fuzzer-no-link,address,undefined -DARENA_WATCHED
# Bounds of buffers, the stack and the tables of the loader are watched in what users run.
OPT_release := $(if $(filter -O0,$(CFLAGS)),,-U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2) -fstack-protector-strong \
               $(if $(APPLE),,-fstack-clash-protection)
LINK_release = $(if $(APPLE),,-Wl,-z,relro,-z,now)
override LDFLAGS += $(LINK_$(VARIANT))
override CPPFLAGS += -Isrc -Igrammar -D_POSIX_C_SOURCE=200809L $(if $(APPLE),-D_DARWIN_C_SOURCE)
# No fused multiply-add, no x87: the same last digit on every machine.
BITS     = -ffp-contract=off $(if $(filter i%86-%,$(shell $(CC) -dumpmachine 2>/dev/null)),-msse2 -mfpmath=sse)
override CFLAGS   += -std=c11 $(BITS) $(WARN) $(WERROR) $(OPT_$(VARIANT)) \
                     $(shell pkg-config --cflags $(PACKAGES) 2>/dev/null)
override LDLIBS   += $(or $(shell pkg-config --libs $(PACKAGES) 2>/dev/null),-lyaml -ljansson $(if $(APPLE),,-lmd) -lutf8proc -lminizip) -lm

SRC  = $(sort $(wildcard src/*.c src/*/*.c src/*/*/*.c))
GEN  = $(B)/gen/print_style.c
OBJ  = $(SRC:src/%.c=$(B)/src/%.o) $(GEN:.c=.o)
PART = $(filter-out $(B)/src/main.o,$(OBJ))
# For mutants as a library beside the tests: one changed object, one thing linked anew.
LIB  = $(if $(filter mutants,$(VARIANT)),$(B)/parts.so,$(PART))
TEST = $(patsubst tests/%.c,$(B)/tests/%,$(sort $(wildcard tests/test_*.c)))
SCRIPTS = $(sort $(filter-out tests/bench_% tests/fuzz_% tests/shared.sh tests/recipes.sh tests/generations.sh tests/additions.sh tests/deb% tests/bytes.sh,$(wildcard tests/*.sh)))
PICTURES = docs/order-page-1.png docs/order-page-2.png
HELP = $(patsubst tests/%.c,$(B)/tests/%.o,$(filter-out $(wildcard tests/test_*.c tests/bench_*.c tests/fuzz_*.c tests/draw_*.c tests/fault.c),$(wildcard tests/*.c)))

.DELETE_ON_ERROR:
.SECONDARY:
.PHONY: all help setup demo compilers check test units golden scripts san coverage coverage-figures mutants fuzz fuzzers torture bench bench-print bench-schedule \
        additions layers headers grammar grammar-check pictures always lint install uninstall git-setup \
        dist deb deb-check clean
all: $(BIN) ## build out/bin/plugwright

help: ## list the targets
	@grep -hE '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed 's/:[^#]*##/\t/' | expand -t 16

setup: ## install what building takes, and nothing that is there already
	@.ci/setup build

demo: ## set up, build, and print one recipe to out/grebe/grebe.pdf
	@.ci/setup build print
	@$(MAKE) --no-print-directory out/grebe/grebe.pdf
	@echo out/grebe/grebe.pdf

out/grebe/grebe.pdf: $(BIN) recipes/grebe.yaml
	$(BIN) order --pdf recipes/grebe.yaml
	@touch $@

check: ## set up, build, and pass all tests
	@.ci/setup build print test tablet editor
	@$(MAKE) --no-print-directory WERROR=-Werror test

test: all units scripts layers headers grammar-check additions

$(BIN): $(B)/plugwright
	@mkdir -p $(@D)
	cp $< $@

$(B)/plugwright: $(OBJ)
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LDLIBS)

# Styles, the starter recipe and the starter workshop are built into the program.
$(GEN): src/emit/print/embed.sh $(sort $(wildcard $(addprefix src/emit/print/*.,html css lua js))) grammar/starter.yaml grammar/workshop.yaml
	@mkdir -p $(@D)
	sh $^ > $@

$(B)/gen/%.o: $(B)/gen/%.c
	$(CC) $(CPPFLAGS) $(CFLAGS) -c -o $@ $<

# The commit is built into the program: of a checkout git's, of an archive what git put into it.
COMMIT   = $(if $(wildcard .git),$(shell git describe --always --dirty --exclude '*' 2>/dev/null),$(shell grep -v Format src/commit))
$(B)/src/main.o: override CPPFLAGS += -DCOMMIT='"$(COMMIT)"'
$(B)/src/main.o: $(wildcard .git/HEAD .git/index)

# The starter names the schemas where they are installed.
$(B)/src/command/new.o: override CPPFLAGS += -DSHARE='"$(PREFIX)/share/plugwright"'
$(B)/src/command/new.o: $(B)/prefix
$(B)/prefix: always
	@mkdir -p $(@D)
	@echo '$(PREFIX)' | cmp -s - $@ || echo '$(PREFIX)' >$@

$(B)/src/%.o: src/%.c
	@mkdir -p $(@D)
	$(CC) $(CPPFLAGS) $(CFLAGS) -MMD -MP -c -o $@ $<

$(B)/tests/%.o: tests/%.c
	@mkdir -p $(@D)
	$(CC) $(CPPFLAGS) $(CFLAGS) -MMD -MP -c -o $@ $<

$(B)/tests/test_% $(B)/tests/bench_%: EXTRA = -lcmocka
$(B)/tests/test_generated: EXTRA = -lcmocka -Wl,--wrap=schedule_solve
$(B)/parts.so: $(PART)
	$(CC) $(CFLAGS) $(LDFLAGS) -shared -o $@ $^ $(LDLIBS)

# Takes a function's place, which it cannot do within a library.
$(B)/tests/test_generated: $(B)/tests/test_generated.o $(HELP) $(PART)
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LDLIBS) $(EXTRA)

$(B)/tests/%: $(B)/tests/%.o $(HELP) $(LIB)
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LDLIBS) $(EXTRA)

units: $(TEST) ## run the unit tests
	@for t in $(TEST); do $$t || exit 1; done

scripts: $(B)/plugwright $(B)/tests/draw_recipes ## run the tests of the command and its messages
	@for t in $(SCRIPTS); do PLUGWRIGHT=$(B)/plugwright bash $$t || exit 1; done

golden: $(B)/plugwright ## write the expected messages anew; read the diff before you commit it
	GOLDEN=write PLUGWRIGHT=$(B)/plugwright bash tests/golden.sh

san: ## all tests under the address and undefined-behaviour sanitizers
	@.ci/setup build print test tablet editor
	@$(MAKE) --no-print-directory VARIANT=san WERROR=-Werror CFLAGS="-O1 -g" units scripts

compilers: ## another compiler, without what only Linux has, without the optimizer: tests pass, and orders are the same
	@.ci/setup build print test lint tablet
	@$(MAKE) --no-print-directory VARIANT=portable CC=clang WERROR=-Werror CFLAGS="-O3 -g" units
	@$(MAKE) --no-print-directory VARIANT=portable CC=clang WERROR=-Werror CFLAGS="-O3 -g" scripts \
	  SCRIPTS="tests/command.sh tests/interrupt.sh tests/watch.sh"
	@$(MAKE) --no-print-directory B=out/plain CFLAGS=-O0 out/plain/plugwright
	@$(MAKE) --no-print-directory $(B)/plugwright
	bash tests/bytes.sh $(B)/plugwright out/portable/plugwright out/plain/plugwright

mutants: ## change one thing at a time and see whether the tests notice: COUNT=10 SEED=1 MINUTES= AT="FILE:LINE ..."
	@.ci/setup build test mutants
	@python3 -B tests/mutants.py --count $(or $(COUNT),10) --seed $(or $(SEED),1) --least $(or $(LEAST),0) \
	  $(if $(MINUTES),--minutes $(MINUTES)) $(AT:%=--at %)

# What a room must have reached, lines/branches in per cent: make coverage ROOMS="read=100/95 ..."
coverage: ## lines and branches that the tests reach, figures a room
	@.ci/setup build print test tablet editor coverage
	@mkdir -p out/coverage && find out/coverage -name '*.gcda' -delete
	@$(MAKE) --no-print-directory VARIANT=coverage CFLAGS=-g units scripts
	@$(MAKE) --no-print-directory coverage-figures

coverage-figures: ## the figures again, of the tests that ran with VARIANT=coverage since make coverage
	@gcovr --root . --object-directory out/coverage --filter src/ --csv out/coverage/files.csv --txt out/coverage/missing.txt \
	  out/coverage
	@awk -v ROOMS="$(ROOMS)" -f tests/coverage.awk out/coverage/files.csv
	@echo "lines that no test reaches: out/coverage/missing.txt"

# Each entry's seeds; MOST bytes an input; of what takes longer a part of the runs.
FUZZERS = recipe quantity files difference generated protocol
MOST_recipe = 8192
MOST_quantity = 64
MOST_files = 12288
MOST_difference = 8192
MOST_generated = 9
MOST_protocol = 4096
PART_recipe = 1
PART_quantity = 1
PART_files = 10
PART_difference = 20
PART_generated = 40
PART_protocol = 2
FUZZ_SEEDS = tests/fuzz_seeds.sh
fuzz: fuzzers ## feed recipes, quantities, bases, workshops, pairs and recipes at random, mutated: RUNS= or SECONDS=
	@sh $(FUZZ_SEEDS) out/fuzz
	@for entry in $(FUZZERS); do $(MAKE) --no-print-directory fuzz-$$entry || exit 1; done

fuzzers: ## build what make fuzz runs
	@.ci/setup build fuzz
	@$(MAKE) --no-print-directory VARIANT=fuzz CC=clang CFLAGS="-O1 -g" $(FUZZERS:%=out/fuzz/fuzz_%)

fuzz-%:
	@mkdir -p out/fuzz/$*
	nice -n 19 out/fuzz/fuzz_$* -max_len=$(MOST_$*) -timeout=60 -print_final_stats=1 -verbosity=0 \
	  $(if $(filter command line,$(origin SECONDS)),-max_total_time=$(SECONDS),-seed=1 -runs=$$(( $(or $(RUNS),20000) / $(PART_$*) ))) \
	  -artifact_prefix=out/fuzz/ out/fuzz/$* out/fuzz/seeds/$*

out/fuzz/fuzz_%: out/fuzz/tests/fuzz_%.o $(HELP:$(B)/%=out/fuzz/%) $(LIB)
	$(CC) $(CFLAGS) -fsanitize=fuzzer $(LDFLAGS) -o $@ $^ $(LDLIBS)

# The faults of every call take the longest, then the kills by the real tools and the fuzzer.
torture: ## all that tries to break it, bounded, with figures: half an hour or more
	@.ci/setup build print test tablet fuzz
	@$(MAKE) --no-print-directory $(B)/plugwright $(B)/tests/draw_recipes $(B)/tests/test_generated
	SEEDS=60 $(B)/tests/test_generated
	PLUGWRIGHT=$(B)/plugwright TIMED=5 DRAWN=600 bash tests/bounds.sh
	PLUGWRIGHT=$(B)/plugwright bash tests/memory.sh
	PLUGWRIGHT=$(B)/plugwright bash tests/interrupt.sh
	PLUGWRIGHT=$(B)/plugwright TORTURE=1 bash tests/faults.sh
	PLUGWRIGHT=$(B)/plugwright TORTURE=1 KILLS=300 bash tests/kills.sh
	@$(MAKE) --no-print-directory fuzz

bench: ## time reading, solving, compiling, planning, learning, and what a save and a keystroke wait for
	@.ci/setup build test tablet
	@$(MAKE) --no-print-directory $(B)/tests/bench_compile $(B)/tests/bench_plan $(B)/tests/bench_lesson $(B)/plugwright
	$(B)/tests/bench_compile $$(sh tests/recipes.sh recipes)
	$(B)/tests/bench_plan recipes/grebe.yaml recipes/grebe-dusk.yaml recipes/grebe-perch.yaml
	$(B)/tests/bench_lesson $$(sh tests/recipes.sh recipes)
	python3 -B tests/bench_watch.py $(B)/plugwright recipes/grebe.yaml recipes/wagtail.yaml
	python3 -B tests/bench_lsp.py $(B)/plugwright recipes/grebe.yaml recipes/wagtail.yaml

bench-print: ## time printing against Pandoc alone, and six orders at once
	@.ci/setup build print
	@$(MAKE) --no-print-directory $(B)/plugwright
	PLUGWRIGHT=$(B)/plugwright bash tests/bench_print.sh

bench-schedule: ## solve PSPLIB instances: DATA=folder of .sm files
	@.ci/setup build test
	@$(MAKE) --no-print-directory $(B)/tests/bench_schedule
	$(B)/tests/bench_schedule $(DATA)

pictures: ## make anew the pictures that README.md and docs/ show
	@.ci/setup build print test pictures
	@$(MAKE) --no-print-directory $(PICTURES)

docs/order-page-%.png: $(B)/plugwright always
	$(B)/plugwright order --pdf -o out/pictures recipes/grebe.yaml
	pdftoppm -png -singlefile -f $* -l $* -scale-to-x 800 -scale-to-y -1 out/pictures/grebe/grebe.pdf out/pictures/page-$*
	pngquant --force --nofs --output $@ 64 out/pictures/page-$*.png

grammar: all ## write docs/fields.md and the JSON Schema from the grammar's rows
	$(BIN) tables fields > docs/fields.md
	$(BIN) tables schema > grammar/recipe.schema.json
	$(BIN) tables workshop-schema > grammar/workshop.schema.json

grammar-check: $(B)/plugwright
	@$< tables fields | diff -u docs/fields.md - && $< tables schema | diff -u grammar/recipe.schema.json - && \
	  $< tables workshop-schema | diff -u grammar/workshop.schema.json -

additions: ## a field, a wood, an operation and a drawing are added to a copy, as DEVELOPERS.md says
	@bash tests/additions.sh

layers: ## who includes whom
	@awk -f tests/layers.awk $$(find src -name '*.[ch]')

headers: ## every header compiles alone, and all of them together
	@for h in $$(find src -name '*.h'); do \
	  $(CC) $(CPPFLAGS) -std=c11 $(WARN) -Werror -fsyntax-only -x c $$h || exit 1; done; echo headers stand alone
	@find src -name '*.h' | sort | sed 's,^src/\(.*\),#include "\1",' | \
	  $(CC) $(CPPFLAGS) -std=c11 $(WARN) -Werror -fsyntax-only -x c - && echo headers go together

lint: ## formatter and analysers
	@.ci/setup build lint
	clang-format --dry-run -Werror $$(find src tests -name '*.[ch]')
	shellcheck -x -P SCRIPTDIR .ci/run .ci/setup docs/pre-commit $(wildcard tests/*.sh src/emit/print/*.sh)
	cppcheck --quiet --std=c11 --error-exitcode=1 --enable=warning,performance,portability \
	  --inline-suppr -Isrc -Igrammar src
	clang -fsyntax-only -std=c11 $(CPPFLAGS) $(WARN) -Werror $(SRC) $(wildcard tests/*.c)
	printf '%s\n' $(SRC) | xargs -P "$$(nproc)" -n 8 sh -c \
	  'clang-tidy --quiet --warnings-as-errors="*" "$$@" -- -std=c11 $(CPPFLAGS)' tidy

SHARE    = $(DESTDIR)$(PREFIX)/share
# what install puts there beside the program, by folder
SHARED   = man/man1/plugwright.1 man/man5/plugwright-recipe.5 \
           bash-completion/completions/plugwright zsh/site-functions/_plugwright \
           fish/vendor_completions.d/plugwright.fish
install: all ## install the program, its pages, completion, docs and example recipes under PREFIX
	install -d "$(DESTDIR)$(BINDIR)" "$(SHARE)/plugwright" "$(SHARE)/doc/plugwright/examples"
	install -m 755 $(BIN) "$(DESTDIR)$(BINDIR)/plugwright"
	for file in $(SHARED); do \
	  install -d "$(SHARE)/$${file%/*}" && \
	  case $$file in *.1) form=man ;; *.5) form=man-recipe ;; bash*) form=bash ;; zsh*) form=zsh ;; *) form=fish ;; esac && \
	  $(BIN) describe $$form >"$(SHARE)/$$file" && chmod 644 "$(SHARE)/$$file" || exit 1; \
	done
	install -m 644 grammar/*.schema.json "$(SHARE)/plugwright"
	install -m 755 docs/pre-commit "$(SHARE)/plugwright"
	install -m 644 README.md docs/*.md "$(SHARE)/doc/plugwright"
	install -m 644 recipes/*.yaml "$(SHARE)/doc/plugwright/examples"

uninstall: ## remove what install put there
	rm -f "$(DESTDIR)$(BINDIR)/plugwright"
	for file in $(SHARED); do rm -f "$(SHARE)/$$file"; done
	rm -rf "$(SHARE)/plugwright" "$(SHARE)/doc/plugwright"

git-setup: all ## let git show designs instead of YAML, and check recipes before a commit (docs/git.md, Git's own commands)
	@git config diff.plugwright.textconv "$$(git rev-parse --sq-quote "$$PWD/$(BIN)") facts --own --"
	@git config plugwright.program "$$PWD/$(BIN)"
	@hook=$$(git rev-parse --git-path hooks/pre-commit) && \
	if [ ! -e "$$hook" ]; then \
	  mkdir -p "$$(dirname "$$hook")" && install -m 755 docs/pre-commit "$$hook" && echo "$$hook checks recipes"; \
	elif cmp -s docs/pre-commit "$$hook"; then echo "$$hook checks recipes"; \
	else echo "$$hook is another hook and stays: see docs/git.md, Before a commit"; fi

# The package is built aside, for its own PREFIX and with what Debian hardens by.
DEB_VERSION = $(shell sed -n 's/^.define VERSION "\(.*\)"/\1/p' src/command/command.h)
DEB = out/plugwright_$(DEB_VERSION)_$(shell dpkg --print-architecture 2>/dev/null).deb
deb: ## a Debian package, out/plugwright_VERSION_ARCHITECTURE.deb, checked by lintian and unpacked
	@.ci/setup build test deb
	@mkdir -p out
	@src/packaging/deb.sh out/deb/stage "$(DEB)" "$(DEB_VERSION)" \
	  $(MAKE) -s --no-print-directory install B=out/deb BIN=out/deb/bin/plugwright PREFIX=/usr
	@PLUGWRIGHT=out/deb/bin/plugwright bash tests/deb.sh "$(DEB)"

deb-check: deb ## install that package in a clean root and use it there (needs the network, and root)
	@.ci/setup deb root
	bash tests/deb_root.sh "$(DEB)"

dist: ## the committed source as an archive
	@mkdir -p out
	git archive --prefix=plugwright/ -o out/plugwright.tar.gz HEAD

clean: ## remove everything that was made
	rm -rf out

-include $(OBJ:.o=.d) $(wildcard $(B)/tests/*.d)
