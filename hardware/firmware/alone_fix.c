#include "alone_fix.h"

#ifndef ALONE_FLOAT

/* a/b with 16 bits, for b of at least 0.25 and a under 500 times that. */
fix ratio16(fix a, fix b)
{
    const int32_t whole = a / b;
    return (fix)((uint32_t)whole << 16) + (fix)(((uint32_t)(a - whole * b) << 8) / ((uint32_t)b >> 8));
}

/* a·b / 2^24 from four products of 16 bits: a 64-bit product costs the chip five times as much. */
fix mul24(fix a, fix b)
{
    const int16_t ah = a >> 16, bh = b >> 16;
    const uint16_t al = a & 0xffff, bl = b & 0xffff;
    const int32_t middle_a = (int32_t)ah * bl, middle_b = (int32_t)bh * al;
    const uint32_t low = (uint32_t)al * bl;
    /* The middle ones are halved before they are added, so that they fit. */
    const int32_t middle = (middle_a >> 1) + (middle_b >> 1) + (int32_t)(low >> 17);
    return (int32_t)((uint32_t)((int32_t)ah * bh) << 8) + (middle >> 7);
}

/* a·b / 2^16. */
fix mul16(fix a, fix b)
{
    const int16_t ah = a >> 16, bh = b >> 16;
    const uint16_t al = a & 0xffff, bl = b & 0xffff;
    return (int32_t)((uint32_t)((int32_t)ah * bh) << 16) + (int32_t)ah * bl + (int32_t)bh * al +
           (int32_t)(((uint32_t)al * bl) >> 16);
}

/* 1/s for s of 24 bits, 0.01 to 127. */
fix recip24(fix s) { return (fix)((0xffffffffUL / (uint32_t)(s >> 10)) << 6); }

#endif
