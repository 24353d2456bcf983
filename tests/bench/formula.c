/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How fast formulas run: against the same expression as a chunk of Lua 5.4, called from C with its
 * arguments as an embedding program calls it; against a loop inside of Lua that calls it (no
 * border between the languages at all); and against the expression as a C function. The values
 * change from run to run, and all four must come to the same sum. */
#include "bench.h"

#include <math.h>
#include <string.h>

#include <lauxlib.h>
#include <lua.h>
#include <lualib.h>

#include <barwright/formula/formula.h>

enum { RUNS = 20000, NAMES = 7, LIST = 6 };

struct expression {
	const char *what, *formula, *lua;
	double (*native)(const double *v, const double *list);
};

static __attribute__((noinline)) double native_limit(const double *v, const double *list)
{
	(void)list;
	double x = 1.5 * v[0];
	return x < 15 ? x : 15;
}

static __attribute__((noinline)) double native_stress(const double *v, const double *list)
{
	(void)list;
	return 6 * v[0] * v[1] / (v[2] * v[3] * v[3]);
}

static __attribute__((noinline)) double native_stack(const double *v, const double *list)
{
	(void)list;
	double left = v[0] - v[1] - v[2] - v[3] - v[4];
	return left >= v[5] && v[1] > 0.5 ? left - v[5] : (v[5] - left) * 2;
}

static __attribute__((noinline)) double native_long(const double *v, const double *list)
{
	(void)list;
	double a = v[0], b = v[1], c = v[2], d = v[3], e = v[4], f = v[5], g = v[6];
	return (a * b + c * d) / (e + f) - (a - b) * (c - d) / (g + 2) + a * c * e / (b + d + 1) -
	       (f - g) * (a + b + c + d) / 3 + 0.5 * (a * a + b * b) / (c * c + d * d + 1);
}

static __attribute__((noinline)) double native_least(const double *v, const double *list)
{
	double least = list[0];
	for (int i = 1; i < LIST; i++)
		if (list[i] < least)
			least = list[i];
	return least - v[1] - v[2];
}

static const struct expression expressions[] = {
	{"min(1.5 a, 15)", "min(1.5 * a, 15)", "min(1.5 * a, 15)", native_limit},
	{"6 a b / (c d d)", "6 * a * b / (c * d * d)", "6 * a * b / (c * d * d)", native_stress},
	{"if a-b-c-d-e >= f and b > 0.5",
		"if a - b - c - d - e >= f and b > 0.5 then a - b - c - d - e - f else "
		"(f - (a - b - c - d - e)) * 2",
		"a - b - c - d - e >= f and b > 0.5 and a - b - c - d - e - f or "
		"(f - (a - b - c - d - e)) * 2",
		native_stack},
	{"45 operators on 7 names",
		"(a * b + c * d) / (e + f) - (a - b) * (c - d) / (g + 2) + a * c * e / (b + d + 1) "
		"- (f - g) * (a + b + c + d) / 3 + 0.5 * (a * a + b * b) / (c * c + d * d + 1)",
		"(a * b + c * d) / (e + f) - (a - b) * (c - d) / (g + 2) + a * c * e / (b + d + 1) "
		"- (f - g) * (a + b + c + d) / 3 + 0.5 * (a * a + b * b) / (c * c + d * d + 1)",
		native_long},
	{"min(list) - b - c", "min(list) - b - c", "least(list) - b - c", native_least},
};
enum { EXPRESSIONS = sizeof expressions / sizeof *expressions };

static const char *const names[NAMES] = {"a", "b", "c", "d", "e", "f", "g"};

struct contest {
	const struct expression *e;
	struct formula *f;
	lua_State *lua;
	double sum[4]; /* ours, Lua from C, Lua in a loop, native */
};

/* Inputs of run i; the same for everybody. */
static void inputs(int i, double *v)
{
	double t = (double)(i % 1000) * 0.001;
	static const double base[NAMES] = {16, 1, 0.3, 2, 5, 3.5, 0.25};
	for (int k = 0; k < NAMES; k++)
		v[k] = base[k] + t;
}

static const double list[LIST] = {16.0, 14.6, 13.9, 15.2, 14.1, 15.0};

static double run_ours(void *context)
{
	struct contest *c = context;
	static struct formula_work work;
	struct formula_value v[NAMES + 1] = {{0}}, out = {0, NULL, 0};
	v[NAMES] = (struct formula_value){0, list, LIST};
	double in[NAMES], sum = 0, start = bench_now_us();
	for (int i = 0; i < RUNS; i++) {
		inputs(i, in);
		for (int k = 0; k < NAMES; k++)
			v[k].number = in[k];
		if (formula_run(c->f, v, &work, &out))
			exit(1);
		sum += out.number;
	}
	c->sum[0] = sum;
	return bench_now_us() - start;
}

/* The chunk is at index 1, the list at index 2 of Lua's stack. */
static double run_lua(void *context)
{
	struct contest *c = context;
	double in[NAMES], sum = 0, start = bench_now_us();
	for (int i = 0; i < RUNS; i++) {
		inputs(i, in);
		lua_pushvalue(c->lua, 1);
		for (int k = 0; k < NAMES; k++)
			lua_pushnumber(c->lua, in[k]);
		lua_pushvalue(c->lua, 2);
		lua_call(c->lua, NAMES + 1, 1);
		sum += lua_tonumber(c->lua, -1);
		lua_pop(c->lua, 1);
	}
	c->sum[1] = sum;
	return bench_now_us() - start;
}

/* The loop is at index 3. */
static double run_lua_loop(void *context)
{
	struct contest *c = context;
	double start = bench_now_us();
	lua_pushvalue(c->lua, 3);
	lua_pushinteger(c->lua, RUNS);
	lua_pushvalue(c->lua, 2);
	lua_call(c->lua, 2, 1);
	c->sum[2] = lua_tonumber(c->lua, -1);
	lua_pop(c->lua, 1);
	return bench_now_us() - start;
}

static double run_native(void *context)
{
	struct contest *c = context;
	double in[NAMES], sum = 0, start = bench_now_us();
	for (int i = 0; i < RUNS; i++) {
		inputs(i, in);
		sum += c->e->native(in, list);
	}
	c->sum[3] = sum;
	return bench_now_us() - start;
}

static void load_lua(lua_State *lua, const char *expression)
{
	char chunk[2048];
	static const char least[] = "local min = math.min\n"
				    "local function least(l)\n"
				    "  local m = l[1]\n"
				    "  for i = 2, #l do if l[i] < m then m = l[i] end end\n"
				    "  return m\n"
				    "end\n";
	snprintf(chunk, sizeof chunk,
		"%sreturn function(a, b, c, d, e, f, g, list) return %s end, "
		"function(n, list)\n"
		"  local sum = 0.0\n"
		"  local function one(a, b, c, d, e, f, g, list) return %s end\n"
		"  for i = 0, n - 1 do\n"
		"    local t = (i %% 1000) * 0.001\n"
		"    sum = sum + one(16 + t, 1 + t, 0.3 + t, 2 + t, 5 + t, 3.5 + t, 0.25 + t, "
		"list)\n"
		"  end\n"
		"  return sum\n"
		"end",
		least, expression, expression);
	luaL_openlibs(lua);
	if (luaL_loadstring(lua, chunk) || lua_pcall(lua, 0, 2, 0)) {
		fprintf(stderr, "%s\n", lua_tostring(lua, -1));
		exit(1);
	}
	lua_createtable(lua, LIST, 0); /* one, loop, table -> one, table, loop */
	for (int i = 0; i < LIST; i++) {
		lua_pushnumber(lua, list[i]);
		lua_rawseti(lua, -2, i + 1);
	}
	lua_insert(lua, 2);
}

static struct formula *load_ours(struct arena *a, const char *text)
{
	struct formula_scope scope = {0};
	struct diags d = {.arena = a};
	struct source source = {"bench", text, strlen(text)};
	struct formula *f = NULL;
	size_t slot;
	for (int k = 0; k <= NAMES; k++) {
		struct formula_name name = {k < NAMES ? names[k] : "list", k < NAMES ? 1 : 4,
			{k < NAMES ? FORMULA_NUMBER : FORMULA_LIST, {{0}}}, {NULL, 0, 0}, 0};
		if (formula_scope_add(a, &scope, &name, &slot))
			exit(1);
	}
	if (formula_compile(
		    a, text, strlen(text), (struct place){&source, 1, 1}, true, &scope, &d, &f))
		exit(1);
	return f;
}

static void contest(const struct expression *e)
{
	char name[128];
	struct arena a = {0};
	struct contest c = {.e = e, .f = load_ours(&a, e->formula), .lua = luaL_newstate()};
	load_lua(c.lua, e->lua);
	snprintf(name, sizeof name, "%s / Lua from C", e->what);
	bench_ratio(name, "aim 0.40", 101, run_ours, run_lua, &c);
	snprintf(name, sizeof name, "%s / loop in Lua", e->what);
	bench_ratio(name, "", 101, run_ours, run_lua_loop, &c);
	snprintf(name, sizeof name, "%s / native C", e->what);
	bench_ratio(name, "", 101, run_ours, run_native, &c);
	for (int i = 1; i < 4; i++)
		if (fabs(c.sum[i] - c.sum[0]) > 1e-9 * fabs(c.sum[0])) {
			fprintf(stderr, "%s: %g and %g\n", e->what, c.sum[0], c.sum[i]);
			exit(1);
		}
	lua_close(c.lua);
	arena_release(&a);
}

int main(void)
{
	for (int i = 0; i < EXPRESSIONS; i++)
		contest(&expressions[i]);
	return 0;
}
