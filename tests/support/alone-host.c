/*
 * The sleeve's own estimate on a computer. Input: the calibration block, then for each sample three counts (i32), three accelerations (i16),
 * u8 good, u8 gap before. Output for each sample nine f64: whether a step was made; milk, g (-1: not weighed); intake, g; milk given in
 * 10 s, g; teat in mouth; a suck's milk, 0.1 g; variance of the milk, g²; cue; content of the fuller bucket, g.
 */
#include "../../hardware/firmware/alone_fix.c"
#include "../../hardware/firmware/alone_estimate.c"
#include "../../hardware/firmware/alone_pace.c"

#include <stdio.h>

#ifdef ALONE_FLOAT
#define GRAMS(x) (x)
#else
#define GRAMS(x) ((x) / 65536.0)
#endif

struct __attribute__((packed)) sample {
    int32_t counts[3];
    int16_t accelerometer[3];
    uint8_t good, gap;
};

int main(void)
{
    static alone_calibration calibration;
    static struct alone_estimate e;
    /* The shipped pace: 8 mL/min by 18 mL, 14 mL/min by 6 mL; a burp each 15 mL, at most 30. */
    static const alone_profile profile = {
        {{8 * 64, 18 * 64}, {14 * 64, 6 * 64}}, 15 * 64, 30 * 64, ALONE_MAY_PACE | ALONE_MAY_BURP};
    static struct alone_pace pace;
    struct sample sample;
    if (fread(&calibration, sizeof calibration, 1, stdin) != 1)
        return 2;
    alone_estimate_begin(&e, &calibration);
    alone_pace_begin(&pace, &profile);
    while (fread(&sample, sizeof sample, 1, stdin) == 1) {
        int32_t counts[3];
        int16_t accelerometer[3];
        double row[9];
        memcpy(counts, sample.counts, sizeof counts);
        memcpy(accelerometer, sample.accelerometer, sizeof accelerometer);
        if (sample.gap)
            alone_estimate_gap(&e);
        row[0] = sample.good && alone_estimate_sample(&e, counts, accelerometer);
        row[7] = row[0] != 0 ? alone_pace_step(&pace, &e, &profile, false) : ALONE_NO_CUE;
        row[8] = GRAMS(larger(pace.bucket[0].ahead, pace.bucket[1].ahead));
        row[1] = e.weighed ? GRAMS(e.x[0]) : -1;
        row[2] = GRAMS(alone_intake(&e));
        row[3] = GRAMS(alone_milk_ago(&e, 200)) - GRAMS(e.x[0]);
        row[4] = e.in_mouth;
        row[5] = GRAMS(e.x[1]);
#ifdef ALONE_FLOAT
        row[6] = e.p[0];
#else
        row[6] = e.p[0] / 16777216.0;
#endif
        fwrite(row, sizeof row, 1, stdout);
    }
    return 0;
}
