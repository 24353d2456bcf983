/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "screen/keys.h"

#include "surface/hear.h"

static const struct {
	uint32_t press, other;
	unsigned places;
	const char *label, *brief, *sentence;
} keys[ACT_NOTHING] = {
#define X(name, press, other, places, label, brief, sentence) \
	[ACT_##name] = {press, other, places, label, brief, sentence},
	KEYS(X)
#undef X
};

enum action keys_action(uint32_t press, enum place place)
{
	for (int i = 0; i < ACT_NOTHING; i++)
		if (press && (keys[i].press == press || keys[i].other == press) &&
			(keys[i].places & (unsigned)place))
			return (enum action)i;
	return ACT_NOTHING;
}

const char *keys_hint(enum place place, size_t i, const char **word)
{
	for (int k = 0; k < ACT_NOTHING; k++) {
		if (!keys[k].brief || !(keys[k].places & (unsigned)place) || i--)
			continue;
		*word = keys[k].brief;
		return keys[k].label;
	}
	return NULL;
}

bool keys_is_scroll(const char *word)
{
	return word == keys[ACT_PAGE_DOWN].brief;
}

void keys_page(struct page *p)
{
	for (int i = 0; i < ACT_NOTHING; i++)
		if (keys[i].sentence)
			page_row(p, keys[i].label, "%s", keys[i].sentence);
	page_add(p, BLOCK_TEXT,
		"Instead of a key these words may be typed into a field, followed by Enter:");
	for (int i = 0; i < SPOKEN_COUNT; i++)
		page_row(p, spoken_word((enum spoken)i), "%s", spoken_text((enum spoken)i));
}
