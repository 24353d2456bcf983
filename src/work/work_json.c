/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "work/work_json.h"

#include <stdlib.h>

#include "tree/json.h"

static void number(struct json_out *j, const char *name, double value)
{
	json_name(j, name);
	json_number(j, value);
}

static void number_if(struct json_out *j, const char *name, bool is_there, double value)
{
	json_name(j, name);
	if (is_there)
		json_number(j, value);
	else
		json_null(j);
}

static void words(struct json_out *j, const char *name, const char *value)
{
	json_name(j, name);
	json_text(j, value);
}

static void truth(struct json_out *j, const char *name, bool value)
{
	json_name(j, name);
	json_truth(j, value);
}

static void tooth(struct json_out *j, const char *name, const struct work_result *w, size_t i)
{
	json_name(j, name);
	json_whole(j, strtol(w->file->site[i].tooth, NULL, 10));
}

static void texts(struct json_out *j, const char *name, const char *const *text, size_t n)
{
	json_name(j, name);
	json_open_list(j);
	for (size_t i = 0; i < n; i++)
		json_text(j, text[i]);
	json_close_list(j);
}

static void spread(struct json_out *j, const struct work_result *w)
{
	number(j, "spread_mm", w->spread.spread_mm);
	json_name(j, "spread");
	json_open_object(j);
	words(j, "rule", w->file->spread == ARCH_CENTRES ? "centres" : "distal-surface");
	number(j, "distal_surface_mm", w->distal_mm);
	number(j, "centres_mm", w->centres_mm);
	json_close_object(j);
}

static void side(struct json_out *j, const char *name, const struct work_side *s)
{
	json_name(j, name);
	json_open_object(j);
	number(j, "limit_mm", s->limit_mm);
	number(j, "actual_mm", s->actual_mm);
	truth(j, "ok", s->ok);
	number(j, "trim_mm", s->trim_mm);
	number(j, "chord_mm", s->chord_mm);
	number(j, "lever_mm", s->lever_mm);
	json_name(j, "end");
	json_open_object(j);
	number(j, "x_mm", s->end.x_mm);
	number(j, "y_mm", s->end.y_mm);
	json_close_object(j);
	json_close_object(j);
}

static void thickness(struct json_out *j, const struct work_result *w)
{
	json_name(j, "thickness");
	json_open_object(j);
	number(j, "available_mm", w->available_mm);
	tooth(j, "governing_site", w, w->governing);
	number_if(j, "chosen_mm", w->fits, w->chosen_mm);
	number(j, "shortfall_mm", w->shortfall_mm);
	json_name(j, "sites");
	json_open_list(j);
	for (size_t i = 0; i < w->file->nsite; i++) {
		json_open_object(j);
		tooth(j, "tooth", w, i);
		number(j, "available_mm", w->site[i].available_mm);
		json_close_object(j);
	}
	json_close_list(j);
	json_close_object(j);
}

static void cut_down(struct json_out *j, const struct work_result *w)
{
	json_name(j, "cut_down");
	json_open_list(j);
	for (size_t i = 0; i < w->file->nsite; i++) {
		const struct work_site *s = &w->site[i];
		json_open_object(j);
		tooth(j, "tooth", w, i);
		number_if(j, "cut_mm", w->fits, s->cut.cut_mm);
		number_if(j, "engaged_mm", w->fits, s->cut.engaged_mm);
		number_if(j, "underside_mm", w->fits, s->cut.underside_mm);
		number_if(j, "top_mm", w->fits, s->cut.top_mm);
		number_if(j, "build_up_mm", w->fits, s->build_up_mm);
		json_close_object(j);
	}
	json_close_list(j);
}

static void loads(struct json_out *j, const struct work_result *w)
{
	json_name(j, "loads");
	json_open_object(j);
	json_name(j, "rigid");
	json_open_list(j);
	for (size_t i = 0; i < w->file->nsite; i++)
		json_number(j, w->site[i].rigid_N);
	json_close_list(j);
	json_name(j, "flexible");
	json_open_list(j);
	for (size_t i = 0; i < w->file->nsite; i++)
		if (w->fits)
			json_number(j, w->site[i].flexible_N);
		else
			json_null(j);
	json_close_list(j);
	json_close_object(j);
}

static void bar(struct json_out *j, const struct work_result *w)
{
	const struct work_bar *b = &w->bar;
	bool is_loaded = w->fits && w->has_loads;

	json_name(j, "bar");
	json_open_object(j);
	number_if(j, "max_stress_mpa", w->fits, b->bending_MPa);
	number_if(j, "max_shear_mpa", w->fits, b->shear_MPa);
	number_if(j, "tip_deflection_mm", w->fits, b->tip_mm);
	number_if(j, "safety_factor", is_loaded, b->factor);
	number_if(j, "net_stress_mpa", is_loaded, b->net_MPa);
	if (is_loaded) {
		tooth(j, "nearest_site", w, b->near_site);
	} else {
		json_name(j, "nearest_site");
		json_null(j);
	}
	json_name(j, "tips");
	json_open_object(j);
	number_if(j, "right_mm", w->fits, w->side[ARCH_RIGHT].tip_mm);
	number_if(j, "left_mm", w->fits, w->side[ARCH_LEFT].tip_mm);
	json_close_object(j);
	number_if(j, "wet_factor", is_loaded, b->safety.peak);
	number_if(j, "everyday_factor", is_loaded, b->safety.everyday);
	json_name(j, "safety_ok");
	if (is_loaded)
		json_truth(j, w->safety_ok);
	else
		json_null(j);
	json_close_object(j);
}

enum bad work_json(const struct work_result *w, struct text *out)
{
	struct json_out j;

	json_begin(&j, out, true);
	json_open_object(&j);
	words(&j, "case", w->file->code);
	words(&j, "jaw", w->file->lower_jaw ? "lower" : "upper");
	words(&j, "verdict", w->refer ? "refer-back" : "go-on");
	texts(&j, "reasons", w->why, w->nwhy);
	spread(&j, w);
	json_name(&j, "cantilever");
	json_open_object(&j);
	side(&j, "right", &w->side[ARCH_RIGHT]);
	side(&j, "left", &w->side[ARCH_LEFT]);
	json_close_object(&j);
	thickness(&j, w);
	cut_down(&j, w);
	loads(&j, w);
	bar(&j, w);
	texts(&j, "cautions", w->caution, w->ncaution);
	json_close_object(&j);
	text_add_char(out, '\n');
	return json_end(&j);
}
