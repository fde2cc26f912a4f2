#include "alone_estimate.h"

#include <string.h>

enum { MILK, SUCK, LEAK, BIAS, LINE };

/* Index of a pair in the triangle of variances, i >= j. */
#define AT(i, j) ((i) * ((i) + 1) / 2 + (j))

static uint8_t at(uint8_t i, uint8_t j) { return i >= j ? AT(i, j) : AT(j, i); }
static fix larger(fix a, fix b) { return a > b ? a : b; }
static fix smaller(fix a, fix b) { return a < b ? a : b; }
static fix size(fix a) { return a < 0 ? -a : a; }

/* Moves toward `to` by `share`, which has 24 bits after the point. */
static void follow(fix *value, fix to, fix share) { *value += mul24(to - *value, share); }

/* Share of a time constant in seconds that passes in a step of 0.05 s. */
#define SHARE(seconds) Q24(0.05 / (seconds))

/* Counters of steps stop at this value. */
#define STEPS_MOST 60000U

#define BLOCK_SAMPLES 4
/* The cells' readings are about 20 ms late, of the 50 ms of a block. */
#define LATE Q24(0.4)
#define SURFACE Q24(0.32) /* 1 - exp(-0.05/0.13): the milk's surface follows the motion with 0.13 s */

/* The same thresholds as on the host, in g instead of N. */
#define LATCH Q16(8.2)
#define RELEASE Q16(6.1)
#define PER_MOTION Q16(1.0)
#define STILL_FORCE Q16(12.2)
#define STILL_MOVE Q16(0.31)
#define STILL_MOVE_PER_MOTION Q24(0.41)
#define BASE_MOST Q16(10.2)
#define RISE_LEAST Q16(8.2)
#define RISE_MOST Q16(46)
#define FAINT Q16(31)
#define BOTTLE_AWAY Q16(60)

/* Figures of the filter, tuned on the captures and fast feeds of tests/bench/alone.ts. */
#define START_MEAN 0.23       /* g, of a suck */
#define STEEP_MORE 0.08       /* g; a bottle held steeply as the baby begins gives more (the host has 0.105 above 0.24) */
#define BEGINS 80             /* steps */
#define START_SUCK 0.09       /* g */
#define SUCK_SCATTER 0.1      /* of a suck's milk, from one to the next */
#define SUCK_WALK 0.003       /* g per square root of sucks */
#define LEAK_SD 0.01          /* g/s, 15 s */
#define FAINT_LEAK 0.12       /* g/s, 2 s, while sucks cannot be detected */
#define LINE_SD 0.75          /* mm */
#define LINE_SEC 10.0
#define READING_VARIANCE 3.9  /* g² */
#define SWING 0.022           /* g per g of milk and unit of restlessness */
/* How many times the unexpected part counts, by its mean square, and by the part of it that lasts from step to step. */
#define RESIDUAL_SEC 9.0
#define WHITE_SHARE 4.0
#define LASTING_SHARE 25.0
/* Greatest variance of a measurement, g²: a disturbance of some seconds moves the milk little, one that stays still does. */
#define SPREAD_MOST 500
#define START_BIAS 0.5        /* g */
#define LATCH_BIAS 0.32       /* g */
#define BIAS_WALK 0.05        /* g per √s */
#define LEAN_SEC 4.0
#define WEIGH_APART 4.0       /* g */
#define WEIGH_VARIANCE 3.0    /* g² */
/* The volume may be known wrongly by this much, so an empty bottle may still seem to give milk. */
#define LEAST_MILK (-Q16(4))

/* cos 110°, and the range from there to 140°. */
#define STEEP_FROM Q16(0.342)
#define STEEP_OVER Q24(1 / 0.424)

/* At the start: milk 1 g, leak 0.005 g/s. */
static const fix start_variance[ALONE_STATES] = {Q24(1.0), Q24(START_SUCK * START_SUCK * 100), Q24(0.25),
                                                  Q24(START_BIAS * START_BIAS), Q24(LINE_SD * LINE_SD)};

/* A suck's milk comes within 0.58 of its period; here in steps. */
static void set_period(struct alone_estimate *e, uint8_t period)
{
    e->period = period;
    e->units_a_step = ratio16(Q16(1 / 0.58), INT_16(period));
}

void alone_estimate_begin(struct alone_estimate *e, const alone_calibration *calibration)
{
    memset(e, 0, sizeof *e);
    e->calibration = calibration;
    e->amplitude = Q16(50);
    set_period(e, 20);
    e->x[SUCK] = Q16(START_MEAN * 10);
}

struct moments {
    fix z, x;             /* g at the lever */
    fix z_of_added, x_of_added; /* for one g more of milk */
};

static void milk_moments(const alone_calibration *c, fix milk, fix upright, struct moments *out)
{
    const fix w = smaller(larger(mul24(milk, FROM_PARTS(c->per_capacity, 24)), Q16(0.002)), Q16(1.15));
    const fix t = 2 * w - Q16(1);
    narrow tilt[ALONE_TILT_TERMS];
    /* T_i(2w − 1), its derivative by w, and the terms before. */
    fix term = Q16(1), slope = 0, term_before = t, slope_before = Q16(2);
    uint8_t i, j;
    tilt[0] = NARROW(Q16(1));
    tilt[1] = NARROW(upright);
    {
        fix before = Q16(1), now = upright;
        for (j = 2; j < ALONE_TILT_TERMS; j++) {
            const fix next = 2 * mul16(upright, now) - before;
            before = now;
            now = next;
            tilt[j] = NARROW(now);
        }
    }
    out->z = out->x = out->z_of_added = out->x_of_added = 0;
    for (i = 0; i < ALONE_VOLUME_TERMS; i++) {
        const fix own = mul16(w, term), added = term + mul16(w, slope);
        row_sum sum = 0;
        fix row, next;
        for (j = 0; j < ALONE_TILT_TERMS; j++)
            sum += ROW(ALONE_TABLE(c, moment_z, i, j), tilt[j]);
        row = ROW_END(sum);
        out->z += mul16(row, own);
        out->z_of_added += mul16(row, added);
        sum = 0;
        for (j = 0; j < ALONE_TILT_TERMS; j++)
            sum += ROW(ALONE_TABLE(c, moment_x, i, j), tilt[j]);
        row = ROW_END(sum);
        out->x += mul16(row, own);
        out->x_of_added += mul16(row, added);
        /* T_{-1} is T_1. */
        next = 4 * term + 2 * mul16(t, slope) - slope_before;
        slope_before = slope;
        slope = i == 0 ? Q16(2) : next;
        next = 2 * mul16(t, term) - term_before;
        term_before = term;
        term = i == 0 ? t : next;
    }
    out->z_of_added = mul24(out->z_of_added, FROM_PARTS(c->per_capacity, 24));
    out->x_of_added = mul24(out->x_of_added, FROM_PARTS(c->per_capacity, 24));
}

static fix load(const int32_t sums[3], const int32_t coefficients[3])
{
    return load_of(sums[0], coefficients[0]) + load_of(sums[1], coefficients[1]) + load_of(sums[2], coefficients[2]);
}

static void take_block(struct alone_estimate *e, struct alone_reading *r)
{
    const alone_calibration *c = e->calibration;
    int32_t sums[3], felt_sums[3];
    fix strength = 0, beside;
    uint8_t i, j;
    for (i = 0; i < 3; i++) {
        sums[i] = e->count_sums[i] - c->zero_sums[i];
        felt_sums[i] = e->felt_sums[i] > 65535 ? 65535 : e->felt_sums[i] < -65535 ? -65535 : e->felt_sums[i];
    }
    {
        int32_t coefficients[3];
        memcpy(coefficients, c->balance, sizeof coefficients);
        r->balance = load(sums, coefficients);
        memcpy(coefficients, c->across, sizeof coefficients);
        r->across = load(sums, coefficients);
        memcpy(coefficients, c->along, sizeof coefficients);
        r->along = load(sums, coefficients);
    }
    for (i = 0; i < 3; i++) {
        int32_t sum = 0;
        fix felt;
        for (j = 0; j < 3; j++)
            sum += (int32_t)c->felt[i][j] * felt_sums[j];
        felt = FROM_SUM(sum) + FROM_PARTS16(c->felt_zero[i], 14);
        if (!e->has_felt)
            e->felt[i] = e->surface[i] = felt;
        r->felt[i] = felt + mul24(e->felt[i] - felt, LATE);
        e->felt[i] = felt;
        follow(&e->surface[i], r->felt[i], SURFACE);
        strength += mul16(felt, felt);
    }
    e->has_felt = true;
    beside = 16 * smaller(larger(strength - Q16(1), -Q16(0.7)), Q16(0.7));
    follow(&e->motion, mul16(beside, beside), SHARE(6));
    /* ((|f|² − 1) / 2 / 0.0156)², less the accelerometer's own noise. */
    r->restless_squared = smaller(larger(4 * e->motion - Q16(0.008), Q16(0.0225)), Q16(36));
    r->restless = root16(r->restless_squared);
}

/* Whether a mouth pulls at the nipple, and how. */
static void track_mouth(struct alone_estimate *e, const struct alone_reading *r, fix pull_x, fix pull_z)
{
    const fix by_motion = mul16(PER_MOTION, r->restless);
    const fix latch = LATCH + by_motion, release = RELEASE + by_motion;
    const fix move = STILL_MOVE + mul24(r->restless, STILL_MOVE_PER_MOTION);
    bool quiet;
    follow(&e->pull_x, pull_x - e->base_x, SHARE(0.15));
    follow(&e->pull_z, pull_z - e->base_z, SHARE(0.15));
    follow(&e->slow_x, pull_x, SHARE(0.5));
    follow(&e->slow_z, pull_z, SHARE(0.5));
    follow(&e->move_x, size(pull_x - e->slow_x), SHARE(0.4));
    follow(&e->move_z, size(pull_z - e->slow_z), SHARE(0.4));
    quiet = size(e->pull_x) < release && size(e->pull_z) < release;
    e->touched = !quiet;
    if (e->move_x < move && e->move_z < move && size(e->pull_x) < STILL_FORCE && size(e->pull_z) < STILL_FORCE) {
        if (e->still < 255)
            e->still++;
    } else {
        e->still = 0;
    }
    /* A large constant force is no mouth: the bottle was put down, or something else hangs on it. */
    if (e->move_x < 2 * move && e->move_z < 2 * move &&
        (size(e->pull_x) > BOTTLE_AWAY || size(e->pull_z) > BOTTLE_AWAY)) {
        if (++e->away >= 40) {
            e->carried = alone_intake(e);
            e->weighed = e->in_mouth = false;
            e->weigh_steps = e->away = 0;
            return;
        }
    } else {
        e->away = 0;
    }
    if (e->in_mouth) {
        e->within = quiet ? e->within + 1 : 0;
        if (e->within >= 12 || e->still >= 20) {
            e->in_mouth = false;
            e->out_steps = 0;
            e->beyond = 0;
        }
    } else {
        if (e->out_steps < STEPS_MOST)
            e->out_steps++;
        e->beyond = size(e->pull_z) > latch ? e->beyond + 1 : 0;
        if (e->beyond >= 5) {
            e->in_mouth = true;
            e->within = e->still = 0;
            e->sucking = false;
            e->owed = 0;
            e->pause_steps = 0;
        } else if (quiet) {
            follow(&e->base_x, pull_x, SHARE(3));
            follow(&e->base_z, pull_z, SHARE(3));
            e->base_x = smaller(larger(e->base_x, -BASE_MOST), BASE_MOST);
            e->base_z = smaller(larger(e->base_z, -BASE_MOST), BASE_MOST);
        }
    }
}

static void forget_floor(struct alone_estimate *e, fix pull)
{
    uint8_t i;
    for (i = 0; i < ALONE_FLOOR_STEPS; i++)
        e->window[i] = SHORT(pull);
}

static void track_sucks(struct alone_estimate *e, fix pull)
{
    if (e->since_suck < 255)
        e->since_suck++;
    if (!e->in_mouth) {
        e->sucking = false;
        forget_floor(e, pull);
        return;
    }
    if (e->pause_steps < STEPS_MOST)
        e->pause_steps++;
    if (e->sucking) {
        e->top = larger(e->top, pull);
        if (e->top - pull > HALF(e->top - e->floor)) {
            e->sucking = false;
            follow(&e->amplitude, e->top - e->floor, Q24(0.15));
            e->has_sucked = true;
            e->pause_steps = 0;
            forget_floor(e, pull);
        } else if (e->since_suck > 20) {
            e->sucking = false;
            forget_floor(e, pull);
        }
    } else {
        fix floor = pull;
        uint8_t i;
        for (i = 0; i < ALONE_FLOOR_STEPS; i++)
            floor = smaller(floor, LONG(e->window[i]));
        if (pull - floor > smaller(RISE_MOST, larger(RISE_LEAST, mul24(e->amplitude, Q24(0.4)))) && e->since_suck >= 9) {
            if (e->since_suck < 40)
                set_period(e, (uint8_t)((4 * (uint16_t)e->period + e->since_suck + 2) / 5));
            e->since_suck = 0;
            e->sucking = true;
            e->floor = floor;
            e->top = pull;
            e->owed = smaller(Q16(1.5), e->owed + Q16(1));
        }
    }
    e->window[e->window_at] = SHORT(pull);
    e->window_at = (uint8_t)((e->window_at + 1) % ALONE_FLOOR_STEPS);
}

/* Variance of a state that decays by `left` (24 bits) in a step, applied to all its pairs and to the past values. */
static void decay(struct alone_estimate *e, uint8_t state, fix left, fix noise)
{
    uint8_t i;
    e->x[state] = mul24(e->x[state], left);
    for (i = 0; i < ALONE_STATES; i++)
        e->p[at(state, i)] = mul24(e->p[at(state, i)], left);
    e->p[AT(state, state)] = mul24(e->p[AT(state, state)], left) + noise;
    for (i = 0; i < ALONE_PAST; i++)
        e->past[i].with[state] = mul24(e->past[i].with[state], left);
}

/* True if sucks are too weak to be told from the mouth's own push, or none was detected for 8 s. */
static bool sucks_are_faint(const struct alone_estimate *e)
{
    return e->amplitude < FAINT || (!e->has_sucked && e->pause_steps > 160);
}

static void predict(struct alone_estimate *e)
{
    fix *p = e->p;
    if (!e->in_mouth) {
        p[AT(MILK, MILK)] += Q24(0.05 * 0.05 * 0.05);
        decay(e, LEAK, Q24(1 - 0.05 / 15), Q24(0.25 * 2 * 0.05 / 15));
        return;
    }
    {
        /* Milk that may still be in the bottle counts. */
        const fix there = e->x[MILK] + root16(TO_16(p[AT(MILK, MILK)]));
        const fix fade = smaller(Q24(1), larger(0, TO_24(smaller(mul24(there, Q24(1 / 1.5)), Q16(1)))));
        fix units = smaller(e->owed, e->units_a_step);
        fix by_suck, by_leak, sucked, before_suck, before_leak;
        uint8_t i;
        e->owed -= units;
        units = mul24(units, fade);
        /* Change of the milk per unit of these states; 24 bits. */
        by_suck = -TO_24(mul24(units, Q24(0.1)));
        by_leak = -mul24(fade, Q24(0.05 * 0.01));
        sucked = mul24(e->x[SUCK], by_suck) + mul24(e->x[LEAK], by_leak);
        e->x[MILK] += sucked;
        before_suck = p[AT(SUCK, MILK)];
        before_leak = p[AT(LEAK, MILK)];
        for (i = 1; i < ALONE_STATES; i++)
            p[AT(i, MILK)] += mul24(by_suck, p[at(SUCK, i)]) + mul24(by_leak, p[at(LEAK, i)]);
        p[AT(MILK, MILK)] += mul24(by_suck, before_suck + p[AT(SUCK, MILK)]) +
                             mul24(by_leak, before_leak + p[AT(LEAK, MILK)]);
        for (i = 0; i < ALONE_PAST; i++)
            e->past[i].with[MILK] +=
                mul24(by_suck, e->past[i].with[SUCK]) + mul24(by_leak, e->past[i].with[LEAK]);
        /* A suck's milk varies by a share of itself from suck to suck, and its mean drifts. */
        {
            const fix scatter = mul24(e->x[SUCK], Q24(SUCK_SCATTER * 0.1));
            p[AT(MILK, MILK)] += mul24(TO_24(mul16(scatter, scatter)), TO_24(units)) + Q24(0.01 * 0.01 * 0.05);
            p[AT(SUCK, SUCK)] += TO_24(mul24(units, Q24(SUCK_WALK * SUCK_WALK * 100)));
        }
        if (sucks_are_faint(e))
            decay(e, LEAK, Q24(1 - 0.05 / 2), Q24(FAINT_LEAK * FAINT_LEAK * 1e4 * 2 * 0.05 / 2));
        else
            decay(e, LEAK, Q24(1 - 0.05 / 15), Q24(LEAK_SD * LEAK_SD * 1e4 * 2 * 0.05 / 15));
    }
    p[AT(BIAS, BIAS)] += Q24(BIAS_WALK * BIAS_WALK * 0.05);
    decay(e, LINE, Q24(1 - 0.05 / LINE_SEC), Q24(LINE_SD * LINE_SD * 2 * 0.05 / LINE_SEC));
}

/* One measurement: its difference from the prediction, its dependence on milk, bias and line, and its variance. */
static void correct(struct alone_estimate *e, fix beyond, fix by_milk, fix by_bias, fix by_line, fix variance)
{
    fix *p = e->p;
    fix with[ALONE_STATES], gain[ALONE_STATES], spread, share;
    uint8_t i, j;
    for (i = 0; i < ALONE_STATES; i++)
        with[i] = mul16(p[at(i, MILK)], by_milk) + mul16(p[at(i, BIAS)], by_bias) + mul16(p[at(i, LINE)], by_line);
    spread = TO_16(mul16(with[MILK], by_milk) + mul16(with[BIAS], by_bias) + mul16(with[LINE], by_line)) + variance;
    spread = smaller(larger(spread, Q16(0.01)), Q16(SPREAD_MOST));
    {
        /* Beyond three deviations a sample counts less, but is not dropped. */
        const fix most = smaller(size(beyond), Q16(30));
        const fix needed = mul24(mul16(most, most), Q24(1.0 / 9));
        spread = larger(spread, needed);
    }
    share = recip24(spread);
    for (i = 0; i < ALONE_STATES; i++) {
        gain[i] = mul24(with[i], share);
        e->x[i] += mul24(beyond, gain[i]);
    }
    for (i = 0; i < ALONE_STATES; i++)
        for (j = 0; j <= i; j++)
            p[AT(i, j)] -= mul24(gain[i], with[j]);
    for (i = 0; i < ALONE_STATES; i++)
        p[AT(i, i)] = larger(p[AT(i, i)], Q24(1e-5));
    for (i = 0; i < ALONE_PAST; i++) {
        struct alone_past *past = &e->past[i];
        const fix seen =
            mul16(past->with[MILK], by_milk) + mul16(past->with[BIAS], by_bias) + mul16(past->with[LINE], by_line);
        past->milk += mul24(beyond, mul24(seen, share));
        for (j = 0; j < ALONE_STATES; j++)
            past->with[j] -= mul24(gain[j], seen);
    }
    e->x[SUCK] = larger(e->x[SUCK], Q16(0.2));
    e->x[MILK] = larger(e->x[MILK], LEAST_MILK);
}

static void shift(struct alone_estimate *e, fix by)
{
    uint8_t i;
    e->x[MILK] += by;
    e->full += by;
    for (i = 0; i < ALONE_PAST; i++)
        e->past[i].milk += by;
}

static void first_weighing(struct alone_estimate *e, fix milk)
{
    uint8_t i;
    memset(e->p, 0, sizeof e->p);
    memset(e->past, 0, sizeof e->past);
    for (i = 0; i < ALONE_STATES; i++)
        e->p[AT(i, i)] = start_variance[i];
    e->x[MILK] = larger(milk, 0);
    e->full = e->x[MILK] + e->carried;
    for (i = 0; i < ALONE_PAST; i++)
        e->past[i].milk = e->x[MILK];
    e->weighed = true;
    e->base_x = e->base_z = 0;
    e->out_steps = 0;
}

/* A still bottle is weighed directly; milk added or lost with the nipple out is not intake. */
static void weigh(struct alone_estimate *e, const struct alone_reading *r)
{
    const fix plane = mul16(r->felt[0], r->felt[0]) + mul16(r->felt[2], r->felt[2]);
    const fix empty = FROM_PARTS16(e->calibration->empty_grams, 6);
    const fix full = FROM_PARTS16(e->calibration->capacity_grams, 6);
    fix milk, apart;
    bool steady;
    if (plane < Q16(0.5) || r->restless > Q16(3)) {
        e->weigh_steps = 0;
        return;
    }
    milk = mul24(mul16(r->across, r->felt[0]) + mul16(r->along, r->felt[2]), recip24(plane)) - empty;
    steady = e->weigh_steps > 0 && size(milk - e->weigh_mean) < Q16(3) && milk > -Q16(8) && milk < full + Q16(40);
    if (!steady) {
        e->weigh_steps = 1;
        e->weigh_mean = milk;
        return;
    }
    follow(&e->weigh_mean, milk, SHARE(0.5));
    if (e->weigh_steps < 255)
        e->weigh_steps++;
    if (e->weigh_steps < 20)
        return;
    if (!e->weighed) {
        first_weighing(e, e->weigh_mean);
        return;
    }
    if (e->out_steps < 24 || e->touched)
        return;
    apart = milk - e->x[MILK];
    if (size(e->weigh_mean - e->x[MILK]) > Q16(WEIGH_APART) && e->weigh_steps >= 40) {
        shift(e, e->weigh_mean - e->x[MILK]);
        return;
    }
    correct(e, apart, Q16(1), 0, 0, Q16(WEIGH_VARIANCE));
}

static void balance(struct alone_estimate *e, const struct alone_reading *r, fix pull_z)
{
    const alone_calibration *c = e->calibration;
    const fix tip = FROM_PARTS16(c->tip, 14);
    struct moments moments;
    fix strength = 0, upright, forward, predicted, by_milk, by_line, beyond, variance, swing;
    uint8_t i;
    for (i = 0; i < 3; i++)
        strength += mul16(e->surface[i], e->surface[i]);
    /* Approximates 1/√ near 1. */
    strength = smaller(larger(strength, Q16(0.6)), Q16(1.5));
    {
        fix inverse = Q16(1.5) - HALF(strength);
        inverse = mul16(inverse, Q16(1.5) - HALF(mul16(strength, mul16(inverse, inverse))));
        upright = smaller(larger(mul16(e->surface[2], inverse), -Q16(1)), Q16(1));
        forward = mul16(e->surface[0], inverse);
    }
    milk_moments(c, e->x[MILK], upright, &moments);
    by_milk = mul16(r->felt[0], tip - moments.z_of_added) + mul16(mul16(r->felt[2], moments.x_of_added), forward);
    if (size(by_milk) < Q16(0.25))
        return;
    predicted = mul16(r->felt[0], mul16(tip, e->x[MILK]) - moments.z) + mul16(mul16(r->felt[2], moments.x), forward);
    by_line = -mul24(pull_z, Q24(0.01));
    beyond = r->balance - mul16(FROM_PARTS16(c->empty_moment, 6), r->felt[0]) - predicted -
             mul16(e->x[BIAS], r->felt[0]) - mul16(e->x[LINE], by_line);
    /* A moving hand changes the measured tilt and so the milk; errors that the filter did not predict lately are expected now too. */
    swing = mul24(larger(e->x[MILK], Q16(5)), Q24(SWING));
    variance = Q16(READING_VARIANCE) + mul16(mul16(swing, swing), r->restless_squared);
    {
        /* A difference that keeps its sign is milk still to be learned, not noise. */
        const fix off = smaller(larger(beyond - e->lean, -Q16(14)), Q16(14));
        follow(&e->lean, smaller(larger(beyond, -Q16(30)), Q16(30)), SHARE(LEAN_SEC));
        follow(&e->residual, mul16(off, off), SHARE(RESIDUAL_SEC));
        follow(&e->lasting, mul16(off, e->off), SHARE(RESIDUAL_SEC));
        e->off = off;
    }
    variance = larger(variance, mul24(e->residual, Q24(WHITE_SHARE)) +
                                    mul24(larger(e->lasting, 0), Q24(LASTING_SHARE)));
    correct(e, beyond, by_milk, r->felt[0], by_line, variance);
}

static void remember(struct alone_estimate *e)
{
    struct alone_past *past;
    uint8_t i;
    if (++e->past_steps < ALONE_PAST_STEPS)
        return;
    e->past_steps = 0;
    e->past_at = (uint8_t)((e->past_at + 1) % ALONE_PAST);
    past = &e->past[e->past_at];
    past->milk = e->x[MILK];
    for (i = 0; i < ALONE_STATES; i++)
        past->with[i] = e->p[at(i, MILK)];
}

/* In the first seconds of a feed the only evidence of a suck's milk is how steeply the bottle is held. */
static void begin_steeply(struct alone_estimate *e)
{
    fix steep;
    if (!e->in_mouth || e->drunk_steps >= BEGINS)
        return;
    e->drunk_steps++;
    steep = smaller(mul24(-e->surface[2] - STEEP_FROM, STEEP_OVER), Q16(1));
    if (steep > e->steep) {
        e->x[SUCK] += mul24(steep - e->steep, Q24(STEEP_MORE * 10));
        e->steep = steep;
    }
}

/*
 * The first third of a step, right after its block: the readings, and the mouth. Each third runs with a sample of its
 * own, so that no sample has to wait.
 */
static void look(struct alone_estimate *e)
{
    struct alone_reading *r = &e->reading;
    bool was = e->in_mouth;
    fix hanging;
    take_block(e, r);
    if (!e->weighed)
        return;
    hanging = FROM_PARTS16(e->calibration->empty_grams, 6) + e->x[MILK];
    r->pull_x = mul16(hanging, r->felt[0]) - r->across;
    r->pull_z = mul16(hanging, r->felt[2]) - r->along;
    track_mouth(e, r, r->pull_x, r->pull_z);
    /* Lips and jaw turn the bottle a little while they hold it. */
    if (e->in_mouth != was)
        e->p[AT(BIAS, BIAS)] = smaller(e->p[AT(BIAS, BIAS)] + Q24(LATCH_BIAS * LATCH_BIAS), Q24(25));
    if (!e->weighed)
        return;
    begin_steeply(e);
    track_sucks(e, r->pull_z);
    predict(e);
}

/* The last third: weighing the still bottle, while nobody drinks. */
static void conclude(struct alone_estimate *e)
{
    if (!e->weighed) {
        weigh(e, &e->reading);
        return;
    }
    if (!e->in_mouth)
        weigh(e, &e->reading);
    else
        e->weigh_steps = 0;
    remember(e);
}

bool alone_estimate_sample(struct alone_estimate *e, const int32_t counts[3], const int16_t accelerometer[3])
{
    const uint8_t part = e->part;
    uint8_t i;
    for (i = 0; i < 3; i++) {
        e->count_sums[i] += counts[i];
        e->felt_sums[i] += accelerometer[i];
    }
    e->part = 0;
    if (++e->samples == BLOCK_SAMPLES) {
        look(e);
        for (i = 0; i < 3; i++)
            e->count_sums[i] = e->felt_sums[i] = 0;
        e->samples = 0;
        e->part = 1;
    } else if (part == 1) {
        if (e->weighed)
            balance(e, &e->reading, e->in_mouth ? e->reading.pull_z - e->base_z : 0);
        e->part = 2;
    } else if (part == 2) {
        conclude(e);
        return true;
    }
    return false;
}

void alone_estimate_gap(struct alone_estimate *e)
{
    uint8_t i;
    for (i = 0; i < 3; i++)
        e->count_sums[i] = e->felt_sums[i] = 0;
    e->samples = 0;
    e->part = 0;
    e->has_felt = false;
    e->weigh_steps = 0;
    e->owed = 0;
    e->sucking = false;
    if (e->weighed)
        e->p[AT(MILK, MILK)] = smaller(e->p[AT(MILK, MILK)] + Q24(4), Q24(60));
}

fix alone_intake(const struct alone_estimate *e) { return e->full - e->x[MILK]; }

fix alone_milk_ago(const struct alone_estimate *e, uint8_t steps)
{
    uint8_t before;
    fix young, old;
    if (steps <= e->past_steps) {
        /* Interpolates between now and the latest stored value. */
        if (e->past_steps == 0)
            return e->x[MILK];
        young = e->x[MILK];
        old = e->past[e->past_at].milk;
    } else {
        steps -= e->past_steps;
        before = (steps - 1) / ALONE_PAST_STEPS;
        steps -= ALONE_PAST_STEPS * before;
        young = e->past[(e->past_at + ALONE_PAST - before) % ALONE_PAST].milk;
        old = e->past[(e->past_at + ALONE_PAST - before - 1) % ALONE_PAST].milk;
        return young + mul24(old - young, steps * Q24(1.0 / ALONE_PAST_STEPS));
    }
    return young + (old - young) * steps / e->past_steps;
}
