/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tables of functions share: how a call is answered, and the way from it to a function of the
 * calculation core. */
#ifndef BARWRIGHT_FORMULA_TRADE_H
#define BARWRIGHT_FORMULA_TRADE_H

#include "formula/function.h"

#define ROTATION_ \
	{ \
		{ \
			0, 0, -1, 1 \
		} \
	}
#define TEMPERATURE_ \
	{ \
		{ \
			0, 0, 0, 0, 1 \
		} \
	}
#define PER_KELVIN_ \
	{ \
		{ \
			0, 0, 0, 0, -1 \
		} \
	}
#define MOLAR_MASS_ \
	{ \
		{ \
			0, 1, 0, 0, 0, -1 \
		} \
	}
#define MOLAR_VOLUME_ \
	{ \
		{ \
			3, 0, 0, 0, 0, -1 \
		} \
	}
#define MONEY_ \
	{ \
		{ \
			0, 0, 0, 0, 0, 0, 1 \
		} \
	}
#define RATE_ \
	{ \
		{ \
			0, 0, -1, 0, 1 \
		} \
	}
#define MOLAR_HEAT_ \
	{ \
		{ \
			2, 1, -2, 0, 0, -1 \
		} \
	}
#define SPECIFIC_HEAT_ \
	{ \
		{ \
			2, 0, -2, 0, -1 \
		} \
	}
#define DOSE_ \
	{ \
		{ \
			-2, 0, 1 \
		} \
	}

/* A function of the core that takes numbers and gives one. */
#define TAKES(name, ...) \
	static enum bad run_##name(struct call *c) \
	{ \
		const double *v = c->number; \
		return __VA_ARGS__; \
	}
#define TAKES_1(name, core) TAKES(name, core(v[0], c->out))
#define TAKES_2(name, core) TAKES(name, core(v[0], v[1], c->out))
#define TAKES_3(name, core) TAKES(name, core(v[0], v[1], v[2], c->out))
#define TAKES_4(name, core) TAKES(name, core(v[0], v[1], v[2], v[3], c->out))
#define TAKES_5(name, core) TAKES(name, core(v[0], v[1], v[2], v[3], v[4], c->out))
#define TAKES_6(name, core) TAKES(name, core(v[0], v[1], v[2], v[3], v[4], v[5], c->out))
#define TAKES_8(name, core) \
	TAKES(name, core(v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], c->out))

static inline enum bad refuse(struct call *c, enum bad code, const char *why)
{
	c->why = why;
	return code;
}

static inline enum bad give(struct call *c, double value)
{
	c->out[0] = value;
	return FINE;
}

#endif
