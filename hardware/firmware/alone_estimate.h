/*
 * Milk, intake and flow computed by the sleeve itself: the moment about the nipple's tip and one adaptive filter of five
 * states, 20 steps a second. Portable C without chip registers: also compiled on a computer, to compare it with the host's estimate.
 */
#ifndef EBBLINE_ALONE_ESTIMATE_H
#define EBBLINE_ALONE_ESTIMATE_H

#include "alone_fix.h"

#include <stdbool.h>
#ifdef __AVR__
#include <avr/eeprom.h>
#endif

#define ALONE_VOLUME_TERMS 4
#define ALONE_TILT_TERMS 7
#define ALONE_STATES 5
#define ALONE_PAIRS (ALONE_STATES * (ALONE_STATES + 1) / 2)
/* Milk some seconds ago, corrected by all measurements since. */
#define ALONE_PAST 6
#define ALONE_PAST_STEPS 40
#define ALONE_FLOOR_STEPS 12

/* Moments of the milk in the bottle, read from EEPROM term by term. */
typedef struct __attribute__((packed)) {
    /* First moments of the milk, g at the lever, 6 bits: terms w·T_i(2w − 1)·T_j(cos tilt), w the share of the capacity. */
    int16_t moment_z[ALONE_VOLUME_TERMS][ALONE_TILT_TERMS], moment_x[ALONE_VOLUME_TERMS][ALONE_TILT_TERMS];
} alone_moments;

#ifdef __AVR__
/* On the chip they stay in EEPROM, which nobody writes while a step runs. */
extern const alone_moments *alone_kept_moments;
#define ALONE_TABLE(c, name, i, j) ((int16_t)eeprom_read_word((const uint16_t *)&alone_kept_moments->name[i][j]))
#else
#define ALONE_TABLE(c, name, i, j) ((c)->moments.name[i][j])
#endif

/* Calibration of a sleeve and its bottle for the estimate; made by the host. Little-endian, no gaps. */
typedef struct __attribute__((packed)) {
    /* Sums of four readings with nothing on the cells. */
    int32_t zero_sums[3];
    /* Grams for each count of such a sum, 40 bits after the point: balance about the tip (lever 0.1 m), Fx, Fz. */
    int32_t balance[3], across[3], along[3];
    /* Felt force, g, per unit of a sum of four readings in 1/8192 g: 13 bits after the point; and its offset, 14 bits. */
    int16_t felt[3][3], felt_zero[3];
    uint16_t empty_grams;    /* 6 bits after the point */
    uint16_t empty_moment;   /* of the empty bottle about the tip, g at the lever, 6 bits */
    uint16_t tip;            /* over the lever, 14 bits */
    uint16_t capacity_grams; /* 6 bits */
    uint32_t per_capacity;   /* 1/g, 24 bits */
#ifndef __AVR__
    alone_moments moments;
#endif
} alone_calibration;

struct alone_past {
    fix milk;
    fix with[ALONE_STATES];
};

/* Measurements of a block of four samples. */
struct alone_reading {
    fix balance, across, along; /* g */
    fix felt[3];                /* at the time of the cells' readings, g */
    fix restless;               /* 1 for a usual hand */
    fix restless_squared;
    fix pull_x, pull_z; /* g, beyond the bottle's weight */
};

struct alone_estimate {
    const alone_calibration *calibration;
    int32_t count_sums[3], felt_sums[3];
    uint8_t samples;
    /* Thirds of a step done; 0: no step is running. */
    uint8_t part;
    struct alone_reading reading;
    /* Felt force one block ago (the cells' readings are late), and as the milk's surface follows it; g. */
    fix felt[3], surface[3];
    bool has_felt;
    /* 256 times the mean square of |f|² − 1, about 6 s. */
    fix motion;
    /* Mouth's pull along and across, g, smoothed; the values without a mouth; their changes. */
    fix pull_z, pull_x, base_z, base_x, slow_z, slow_x, move_z, move_x;
    bool in_mouth, touched;
    uint8_t beyond, within, still;
    uint16_t out_steps;
    /* Sucks. */
    shorter window[ALONE_FLOOR_STEPS];
    fix floor, top, amplitude, owed, units_a_step;
    uint8_t window_at, since_suck, period;
    bool sucking, has_sucked;
    uint16_t pause_steps;
    /* Greatest tilt in the feed's first seconds, 0 to 1. */
    fix steep;
    uint8_t drunk_steps;
    /* State of the filter: milk g, a suck's milk 0.1 g, leak 0.01 g/s, bias g, the mouth's line mm; and variances. */
    fix x[ALONE_STATES], p[ALONE_PAIRS];
    /* Prediction errors: mean square, mean product of two in a row (g²), the latest, and their smoothed mean. */
    fix residual, lasting, off, lean;
    struct alone_past past[ALONE_PAST];
    uint8_t past_at, past_steps;
    bool weighed;
    uint8_t weigh_steps;
    fix weigh_mean;
    /* The amount of milk from which the intake is counted. */
    fix full;
    /* Intake from bottles before this one, and steps in which no bottle seems to be there. */
    fix carried;
    uint8_t away;
};

void alone_estimate_begin(struct alone_estimate *e, const alone_calibration *calibration);

/*
 * One sample with good cells and accelerometer. Returns true if the estimate has made a step of a twentieth of a second:
 * with the second sample after each block of four.
 */
bool alone_estimate_sample(struct alone_estimate *e, const int32_t counts[3], const int16_t accelerometer[3]);

/* Samples were lost: an unfinished block is dropped, and nothing before the gap is used. */
void alone_estimate_gap(struct alone_estimate *e);

/* Milk drunk since the first weighing, g. */
fix alone_intake(const struct alone_estimate *e);
/* Milk this many steps ago (at most 200: 10 s) by present knowledge, g. */
fix alone_milk_ago(const struct alone_estimate *e, uint8_t steps);

#endif
