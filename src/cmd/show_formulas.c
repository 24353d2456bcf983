/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/show_formulas.h"

#include <string.h>

#include <barwright/base/nearest.h>
#include <barwright/formula/formula.h>

#include "tree/json.h"

/* One form of a function. */
struct form {
	const char *name, *does, *source;
	struct text form, takes, gives;
};

/* False past the last. form_release in every case. */
static bool form_init(struct form *f, size_t i)
{
	*f = (struct form){0};
	text_init(&f->form);
	text_init(&f->takes);
	text_init(&f->gives);
	f->name = formula_function(i, &f->does, &f->source);
	formula_function_add(i, &f->form, &f->takes, &f->gives);
	return f->name;
}

static void form_release(struct form *f)
{
	text_release(&f->form);
	text_release(&f->takes);
	text_release(&f->gives);
}

static void form_tell(const struct form *f, struct text *out)
{
	text_addf(out, "%s\n  %s.\n  Takes %s; gives %s.\n", f->form.at, f->does, f->takes.at,
		f->gives.at);
	if (f->source)
		text_addf(out, "  Source: %s.\n", f->source);
	out->out |= f->form.out | f->takes.out | f->gives.out;
}

static void put(struct json_out *out, const char *name, const char *s)
{
	json_name(out, name);
	if (s)
		json_text(out, s);
	else
		json_null(out);
}

static void form_json(const struct form *f, struct json_out *out)
{
	json_open_object(out);
	put(out, "name", f->name);
	put(out, "form", f->form.at);
	put(out, "does", f->does);
	put(out, "takes", f->takes.at);
	put(out, "gives", f->gives.at);
	put(out, "source", f->source);
	json_close_object(out);
	out->text->out |= f->form.out | f->takes.out | f->gives.out;
}

/* Tells those of this name; null: all. How many there were. */
static size_t tell_forms(const char *name, struct text *out, struct json_out *json)
{
	size_t n = 0;
	struct form f;
	for (size_t i = 0; form_init(&f, i); i++) {
		if (!name || strcmp(f.name, name) == 0) {
			if (json)
				form_json(&f, json);
			else
				form_tell(&f, out);
			n++;
		}
		form_release(&f);
	}
	form_release(&f);
	return n;
}

static int unknown_function(const char *name)
{
	struct nearest near = {.wanted = name, .len = strlen(name)};
	const char *known, *does, *source;
	for (size_t i = 0; (known = formula_function(i, &does, &source)); i++)
		nearest_offer(&near, known, strlen(known));
	if (near.word)
		return cannot("there is no function '%s'; did you mean '%s'?", name, near.word);
	return cannot("there is no function '%s'; all of them: barwright show formulas", name);
}

static enum bad fill(const struct options *o, const char *name, struct text *out, size_t *n)
{
	struct json_out json;
	*n = 1;
	if (!o->json && !name) {
		formula_reference(out);
		return FINE;
	}
	if (!o->json) {
		*n = tell_forms(name, out, NULL);
		text_add(out,
			"\nA letter stands for one kind of quantity throughout a form; a list "
			"may stand\nwhere a number does, and the function then works on each "
			"value.\n");
		return FINE;
	}
	json_begin(&json, out, true);
	json_open_list(&json);
	*n = tell_forms(name, NULL, &json);
	json_close_list(&json);
	text_add_char(out, '\n');
	return json_end(&json);
}

int show_formulas(const struct options *o, const char *name)
{
	struct text out;
	size_t n;
	text_init(&out);
	enum bad code = fill(o, name, &out, &n);
	int status = code ? cannot("%s", bad_text(code))
		     : n  ? put_out(&out, EXIT_DONE)
			  : unknown_function(name);
	text_release(&out);
	return status;
}
