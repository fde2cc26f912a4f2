/*
 * Fixed point for the sleeve's own estimate: 32-bit numbers with 16 or 24 bits after the point. The same sources are
 * also compiled for a computer, in fixed point and (ALONE_FLOAT) in floating point, to measure the rounding errors.
 */
#ifndef EBBLINE_ALONE_FIX_H
#define EBBLINE_ALONE_FIX_H

#include <stdint.h>

#ifdef ALONE_FLOAT

typedef double fix;
#define Q16(x) ((fix)(x))
#define Q24(x) ((fix)(x))
#define TO_16(x) (x)
#define TO_24(x) (x)
#define HALF(x) ((x) / 2)
#define INT_16(n) ((fix)(n))
#define FROM_PARTS(raw, bits) ((fix)(raw) / (1L << (bits)))
#define FROM_PARTS16(raw, bits) ((fix)(raw) / (1L << (bits)))
/* From products with 13 bits after the point and sums of four readings in 1/8192. */
#define FROM_SUM(sum) ((fix)(sum) / (1L << 28))
typedef double narrow;
typedef double shorter;
#define SHORT(x) (x)
#define LONG(x) (x)
typedef double row_sum;
#define NARROW(x) (x)
#define ROW(c, t) ((fix)(c) / 64 * (t))
#define ROW_END(sum) (sum)
static inline fix ratio16(fix a, fix b) { return a / b; }
static inline fix mul24(fix a, fix b) { return a * b; }
static inline fix mul16(fix a, fix b) { return a * b; }
static inline fix recip24(fix s) { return 1 / s; }
static inline fix root16(fix a)
{
    fix root = a > 1 ? a : 1;
    for (int i = 0; i < 20; i++)
        root = (root + a / root) / 2;
    return a > 0 ? root : 0;
}
/* Sum of counts times a coefficient with 40 bits after the point. */
static inline fix load_of(int32_t sum, int32_t coefficient) { return sum * (fix)coefficient / 1099511627776.0; }
#define ROUND_16(x) ((int32_t)((x) * 65536.0))

#else

typedef int32_t fix;
#define Q16(x) ((fix)((x) * 65536.0 + ((x) < 0 ? -0.5 : 0.5)))
#define Q24(x) ((fix)((x) * 16777216.0 + ((x) < 0 ? -0.5 : 0.5)))
#define TO_16(x) ((x) >> 8)
/* For numbers under 128. */
#define TO_24(x) ((fix)((uint32_t)(x) << 8))
#define HALF(x) ((x) >> 1)
#define INT_16(n) ((fix)(n) << 16)
/* 24 bits, unchanged. */
#define FROM_PARTS(raw, bits) ((fix)(raw))
/* A whole number with `bits` (at most 16) after the point, converted to 16. */
#define FROM_PARTS16(raw, bits) ((fix)((uint32_t)(int32_t)(raw) << (16 - (bits))))
#define FROM_SUM(sum) ((sum) >> 12)
typedef int16_t narrow;
/* 5 bits after the point. */
typedef int16_t shorter;
#define SHORT(x) ((int16_t)((x) >> 11))
#define LONG(x) ((fix)((uint32_t)(int32_t)(x) << 11))
typedef int32_t row_sum;
#define NARROW(x) ((int16_t)((x) >= Q16(1) ? 16384 : (x) >> 2))
#define ROW(c, t) ((int32_t)(c) * (t))
#define ROW_END(sum) ((sum) >> 4)
#define ROUND_16(x) (x)
/* a·b / 2^24; a·b / 2^16; 1/s with 24 bits, for s of 0.01 or more with 16; a/b with 16, for b of at least 0.25 and a under 500 b. */
fix mul24(fix a, fix b);
fix mul16(fix a, fix b);
fix recip24(fix s);
fix ratio16(fix a, fix b);
/* √a to 8 bits, for a under 127. */
fix root16(fix a);

static inline fix load_of(int32_t sum, int32_t coefficient) { return mul24(sum, coefficient); }

#endif

#endif
