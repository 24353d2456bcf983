# Barwright. "make help" lists the targets; ".setup/open" and ".setup/test" also install what is missing.
#
# Plain "make" never installs anything and never stops at a warning; "make check" does stop.

VERSION = 0.1.0
PREFIX ?= /usr/local
DESTDIR ?=
CC ?= cc
MODE ?= release
B ?= .build/$(MODE)
J ?= $(shell nproc 2>/dev/null || echo 2)
PKG_CONFIG ?= pkg-config

PACKAGES = ncursesw libcjson yaml-0.1 libsodium gsl
TEST_PACKAGES = cmocka vterm lapacke udunits

WARN = -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wvla -Wstrict-prototypes -Wmissing-prototypes \
       -Wwrite-strings -Wundef -Wcast-qual -Wpointer-arith -Wformat=2
OPT_release = -O2 -g
OPT_debug   = -O0 -g3
OPT_san     = -O1 -g -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer
OPT_stress  = -O1 -g -fsanitize=address,undefined -fno-sanitize-recover=all -DBARWRIGHT_STRESS
OPT = $(OPT_$(MODE))

CFLAGS ?=
STD = -std=c11 -D_POSIX_C_SOURCE=200809L -D_XOPEN_SOURCE=700 -D_DEFAULT_SOURCE
INC = -Iinclude -Isrc -include barwright/base/banned.h
DATADIR = $(PREFIX)/share/barwright
DEFS = -DBARWRIGHT_VERSION='"$(VERSION)"' -DBARWRIGHT_DATADIR='"$(DATADIR)"'
# -ffp-contract=off: the same bits with and without fused multiply-add; the prefix map: the same
# bytes in every folder.
ALL_CFLAGS = $(STD) $(INC) $(WARN) $(OPT) -ffp-contract=off -ffile-prefix-map=$(CURDIR)=. $(WERROR) $(CFLAGS)
# Worked out when used, so that they see what .setup has just installed.
PKG_CFLAGS = $(filter-out -D_XOPEN_SOURCE=% -D_DEFAULT_SOURCE,$(shell $(PKG_CONFIG) --cflags $(PACKAGES)))
PKG_LIBS = $(shell $(PKG_CONFIG) --libs $(PACKAGES)) -lm
TEST_CFLAGS = $(shell $(PKG_CONFIG) --cflags $(TEST_PACKAGES))
TEST_LIBS = $(shell $(PKG_CONFIG) --libs $(TEST_PACKAGES)) -lutil

# ---- what there is -------------------------------------------------------------------------------

FLOORS := $(shell awk '$$1 == "floor" { for (i = 2; i <= NF; i++) print $$i }' src/FLOORS)
# The folders a test of floor $(1) is linked with: those listed before its line, and itself.
below = $(shell awk -v f=$(1) '$$1 == "floor" { for (i = 2; i <= NF; i++) if ($$i == f) { print f; exit } \
	for (i = 2; i <= NF; i++) print $$i }' src/FLOORS)
SRC := $(sort $(foreach f,$(FLOORS),$(wildcard src/$(f)/*.c)))
OBJ := $(SRC:%.c=$(B)/%.o)
MAIN := $(B)/src/cmd/main.o
LIB_OBJ := $(filter-out $(MAIN),$(OBJ))

UNIT_SRC := $(sort $(wildcard tests/unit/*/test_*.c))
UNIT := $(UNIT_SRC:%.c=$(B)/%)
WHOLE_SRC := $(sort $(wildcard tests/pty/test_*.c tests/fault/test_*.c))
WHOLE := $(WHOLE_SRC:%.c=$(B)/%)
BENCH_SRC := $(sort $(filter-out tests/bench/base_%,$(wildcard tests/bench/*.c)))
BENCH := $(BENCH_SRC:%.c=$(B)/%)
BENCH_BASE := $(patsubst %.c,$(B)/%,$(wildcard tests/bench/base_*.c))
FUZZ_SRC := $(sort $(wildcard tests/fuzz/fuzz_*.c))
HEADERS := $(sort $(wildcard include/barwright/*/*.h src/*/*.h))

# ---- building ------------------------------------------------------------------------------------

all: $(B)/barwright

$(B)/barwright: $(OBJ)
	$(CC) $(OPT) $(LDFLAGS) $^ -o $@ $(PKG_LIBS)

# The commands know version and data folder; they are built again when either changes.
$(filter $(B)/src/cmd/%,$(OBJ)): $(B)/defs
$(B)/defs: FORCE
	@mkdir -p $(@D)
	@echo '$(DEFS)' | cmp -s - $@ || echo '$(DEFS)' >$@

$(B)/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) $(DEFS) $(PKG_CFLAGS) -MMD -MP -c $< -o $@

$(B)/tests/%.o: tests/%.c
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) -Itests -Wno-conversion -Wno-missing-prototypes $(DEFS) $(PKG_CFLAGS) $(TEST_CFLAGS) -MMD -MP -c $< -o $@

# tests/unit/FLOOR/test_x.c is linked with FLOOR and the floors below it only.
define unit_rule
$$(filter $$(B)/tests/unit/$(1)/%,$$(UNIT)): $$(B)/tests/unit/$(1)/%: $$(B)/tests/unit/$(1)/%.o \
		$$(filter-out $$(MAIN),$$(foreach f,$$(call below,$(1)),$$(patsubst %.c,$$(B)/%.o,$$(wildcard src/$$(f)/*.c))))
	$$(CC) $$(OPT) $$(LDFLAGS) $$^ -o $$@ $$(TEST_LIBS) $$(PKG_LIBS)
endef
$(foreach f,$(FLOORS),$(eval $(call unit_rule,$(f))))

$(WHOLE) $(BENCH): $(B)/%: $(B)/%.o $(LIB_OBJ)
	$(CC) $(OPT) $(LDFLAGS) $^ -o $@ $(TEST_LIBS) $(BENCH_LIBS) $(PKG_LIBS)

-include $(OBJ:.o=.d) $(UNIT:%=%.d) $(WHOLE:%=%.d) $(BENCH:%=%.d)

# ---- using ---------------------------------------------------------------------------------------

run:
	@sh .setup/install run
	@$(MAKE) --no-print-directory -j$(J) all
	@exec $(B)/barwright --courses courses

test:
	@sh .setup/install test
	@$(MAKE) --no-print-directory -j$(J) all tests
	@sh tests/tools/run.sh $(B)

tests: $(UNIT) $(WHOLE)

# One test: make t T=calc/test_arch
t: $(B)/tests/unit/$(T)
	$(B)/tests/unit/$(T)

install: all
	install -D -m 755 $(B)/barwright $(DESTDIR)$(PREFIX)/bin/barwright
	find courses rubrics -type f \( -name '*.yaml' -o -name '*.md' \) -exec install -D -m 644 {} $(DESTDIR)$(DATADIR)/{} \;

uninstall:
	rm -f $(DESTDIR)$(PREFIX)/bin/barwright
	rm -rf $(DESTDIR)$(DATADIR)

# ---- checking ------------------------------------------------------------------------------------

# All that must hold before a commit; CI runs the tests through .ci/run.
check: installed floors headers names layout
	@$(MAKE) --no-print-directory -j$(J) WERROR=-Werror B=.build/check all tests
	@sh tests/tools/run.sh .build/check
	@$(MAKE) --no-print-directory -j$(J) san
	@$(MAKE) --no-print-directory bits
	@.build/check/barwright check courses rubrics

installed:
	@sh .setup/install test

san:
	@$(MAKE) --no-print-directory -j$(J) MODE=san all tests
	@sh tests/tools/run.sh .build/san

# The same formulas and the same keys give the same bits with gcc and clang, plain and optimised.
bits:
	@sh tests/tools/formula_bits.sh
	@sh tests/tools/instance_bits.sh

floors:
	@awk -f tests/tools/floors.awk src/FLOORS $(SRC) $(HEADERS)

headers:
	@for h in $(HEADERS); do printf '#include "%s"\n' $$h | \
		$(CC) $(STD) $(INC) $(WARN) -Werror $(PKG_CFLAGS) -I. -fsyntax-only -x c - || exit 1; done
	@echo "headers: each compiles alone"

names:
	@sh tests/tools/names.sh

layout:
	@if command -v clang-format >/dev/null; then \
		clang-format --dry-run -Werror $(SRC) $(HEADERS) && echo "layout: as .clang-format says"; \
	else echo "layout: skipped, no clang-format here"; fi

format:
	clang-format -i $(SRC) $(HEADERS) $(UNIT_SRC) $(WHOLE_SRC) $(BENCH_SRC)

bench:
	@sh .setup/install bench
	@$(MAKE) --no-print-directory -j$(J) BENCH_LIBS="$$($(PKG_CONFIG) --libs lua5.4)" TEST_PACKAGES="$(TEST_PACKAGES) lua5.4" all benches
	@sh tests/bench/run.sh $(B)

benches: $(BENCH) $(BENCH_BASE)

# What a bench program is compared with: nothing of ours in it.
$(B)/tests/bench/base_empty: tests/bench/base_empty.c
	@mkdir -p $(@D)
	$(CC) -O2 $< -o $@ -Wl,--no-as-needed $(PKG_LIBS)

$(B)/tests/bench/base_%: tests/bench/base_%.c
	@mkdir -p $(@D)
	$(CC) -O2 $$($(PKG_CONFIG) --cflags ncursesw) $< -o $@ $$($(PKG_CONFIG) --libs ncursesw)

# Coverage-guided: make fuzz F=formula T=60
fuzz:
	@mkdir -p .build/fuzz/corpus-$(F)
	clang $(STD) $(INC) -g -O1 -fsanitize=fuzzer,address,undefined -fno-sanitize-recover=all $(DEFS) $(PKG_CFLAGS) \
		tests/fuzz/fuzz_$(F).c $(filter-out src/cmd/%,$(SRC)) -o .build/fuzz/$(F) $(PKG_LIBS)
	.build/fuzz/$(F) -max_total_time=$(T) .build/fuzz/corpus-$(F) $(wildcard tests/fuzz/seeds-$(F))

clean:
	rm -rf .build

help:
	@echo "make            build .build/release/barwright"
	@echo "make run        install what is missing, build, open the program on the demo course"
	@echo "make test       install what is missing, build, run every test"
	@echo "make t T=F/X    one unit test, for example T=calc/test_arch"
	@echo "make check      all that must hold before a commit: floors, headers, layout, tests, sanitizers, courses"
	@echo "make bits       the same bits from every compiler here"
	@echo "make bench      measure, as ratios within one run"
	@echo "make fuzz F= T= one fuzz target for T seconds"
	@echo "make format     lay the sources out"
	@echo "make install    PREFIX=/usr/local DESTDIR=; make uninstall takes it away again"
	@echo "make clean      remove .build"

.PHONY: all run test tests t install uninstall check installed san bits floors headers names layout format bench benches fuzz clean help
.PRECIOUS: $(B)/%.o
FORCE:
