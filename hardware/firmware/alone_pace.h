/*
 * The sleeve's own cues: "too fast" by the two pace buckets (sleeve contract, section 5) and "burp" by volume, from the
 * intake as known now. Portable C.
 */
#ifndef EBBLINE_ALONE_PACE_H
#define EBBLINE_ALONE_PACE_H

#include "alone_estimate.h"

#define ALONE_MAY_PACE 0x01  /* "slower" cues are allowed for this baby */
#define ALONE_MAY_BURP 0x02
#define ALONE_MAY_SOUND 0x04 /* sound was on */

/* Little-endian, no gaps; 6 bits after the point. */
typedef struct __attribute__((packed)) {
    struct __attribute__((packed)) {
        uint16_t ml_per_min, depth_ml;
    } bucket[2];
    uint16_t burp_ml, burp_most_ml;
    uint8_t may;
} alone_profile;

enum alone_cue { ALONE_NO_CUE, ALONE_TOO_FAST, ALONE_BURP };

struct alone_bucket {
    fix settled, ahead, lowest, a_step, depth;
    bool armed, owed;
};

struct alone_pace {
    struct alone_bucket bucket[2];
    /* Steps since the settled part of the buckets, at most 10 s; and the intake at that time as it was known last. */
    uint8_t settled_steps;
    fix settled_intake;
    bool active;
    uint16_t since_cue, since_peak;
    fix peak[2];
    fix burp_from;
    uint16_t up_steps, burp_steps;
    uint8_t cues, burps; /* numbers so far */
    enum alone_cue cue;
};

void alone_pace_begin(struct alone_pace *pace, const alone_profile *profile);

/* After each step of the estimate. Returns the cue that begins now, else ALONE_NO_CUE; `pace->cue` is the active one. */
enum alone_cue alone_pace_step(struct alone_pace *pace, const struct alone_estimate *e, const alone_profile *profile,
                               bool button);

#endif
