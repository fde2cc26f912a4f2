#include "alone_fix.h"

#ifndef ALONE_FLOAT

fix ratio16(fix a, fix b)
{
    const int32_t whole = a / b;
    return (fix)((uint32_t)whole << 16) + (fix)(((uint32_t)(a - whole * b) << 8) / ((uint32_t)b >> 8));
}

fix recip24(fix s) { return (fix)((0xffffffffUL / (uint32_t)(s >> 2)) << 6); }

/* Bit by bit: divisions would take the chip longer. */
fix root16(fix a)
{
    uint32_t rest = a > 0 ? (uint32_t)a : 0, root = 0, bit = 1UL << 22;
    for (; bit; bit >>= 2) {
        if (rest >= root + bit) {
            rest -= root + bit;
            root = (root >> 1) + bit;
        } else {
            root >>= 1;
        }
    }
    return (fix)(root << 8);
}

#ifdef __AVR__

/*
 * The product of the absolute values column by column, from the lowest byte on, in three registers used in rotation; the
 * sign is stored in flag T. The compiler's code for a 64-bit product takes ten times as long.
 * a in r25:r22, b in r21:r18, the result in r25:r22 (avr-gcc's calling convention).
 */
#define SIGNS                                                                                                           \
    "mov r0, r25\n eor r0, r21\n bst r0, 7\n"                                                                            \
    "sbrs r25, 7\n rjmp 1f\n" NEGATE("r22", "r23", "r24", "r25") "1: sbrs r21, 7\n rjmp 2f\n" NEGATE("r18", "r19",     \
                                                                                                      "r20", "r21") "2:\n"
#define NEGATE(a, b, c, d)                                                                                              \
    "com " d "\n com " c "\n com " b "\n neg " a "\n sbci " b ", 255\n sbci " c ", 255\n sbci " d ", 255\n"
#define ADD(x, y, low, middle, high)                                                                                    \
    "mul " x ", " y "\n add " low ", r0\n adc " middle ", r1\n adc " high ", r31\n"
/* Adds half of the last bit that is kept. */
#define ROUND(low, middle, high) "subi " low ", 128\n sbci " middle ", 255\n sbci " high ", 255\n"
#define COLUMNS_0_AND_1                                                                                                 \
    "clr r31\n clr r30\n clr r26\n mul r22, r18\n mov r27, r1\n" ADD("r22", "r19", "r27", "r30", "r26")                  \
        ADD("r23", "r18", "r27", "r30", "r26")
#define COLUMN_2                                                                                                        \
    "clr r27\n" ADD("r22", "r20", "r30", "r26", "r27") ADD("r23", "r19", "r30", "r26", "r27")                            \
        ADD("r24", "r18", "r30", "r26", "r27")
#define COLUMN_3                                                                                                        \
    ADD("r22", "r21", "r26", "r27", "r30") ADD("r23", "r20", "r26", "r27", "r30")                                         \
    ADD("r24", "r19", "r26", "r27", "r30") ADD("r25", "r18", "r26", "r27", "r30")
#define COLUMN_4                                                                                                        \
    ADD("r23", "r21", "r27", "r30", "r26") ADD("r24", "r20", "r27", "r30", "r26") ADD("r25", "r19", "r27", "r30", "r26")
#define COLUMN_5 ADD("r24", "r21", "r30", "r26", "r27") ADD("r25", "r20", "r30", "r26", "r27")
#define SIGN "clr r1\n brtc 3f\n" NEGATE("r22", "r23", "r24", "r25") "3: ret\n"

fix __attribute__((naked)) mul24(__attribute__((unused)) fix a, __attribute__((unused)) fix b)
{
    __asm__ volatile(SIGNS COLUMNS_0_AND_1 COLUMN_2 ROUND("r30", "r26", "r27") "clr r30\n" COLUMN_3 "mov r22, r26\n clr r26\n" COLUMN_4
                     "mov r23, r27\n clr r27\n" COLUMN_5 "mul r25, r21\n add r26, r0\n mov r24, r30\n mov r25, r26\n" SIGN);
}

fix __attribute__((naked)) mul16(__attribute__((unused)) fix a, __attribute__((unused)) fix b)
{
    __asm__ volatile("push r17\n" SIGNS COLUMNS_0_AND_1 ROUND("r27", "r30", "r26") COLUMN_2 "mov r17, r30\n clr r30\n" COLUMN_3
                     "mov r22, r17\n pop r17\n mov r18, r26\n clr r26\n" COLUMN_4 "mov r19, r27\n clr r27\n" COLUMN_5
                     "mov r23, r18\n mov r24, r19\n mov r25, r30\n" SIGN);
}

#else

/* The same result as on the chip: absolute values first, and rounded. */
static fix product(fix a, fix b, uint8_t bits)
{
    const int64_t whole = (int64_t)a * b;
    const int64_t half = (int64_t)1 << (bits - 1);
    return (fix)(whole < 0 ? -((-whole + half) >> bits) : (whole + half) >> bits);
}

fix mul24(fix a, fix b) { return product(a, b, 24); }
fix mul16(fix a, fix b) { return product(a, b, 16); }

#endif

#endif
