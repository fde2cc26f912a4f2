#include "alone_pace.h"

#include <string.h>

#define STEPS(seconds) ((uint16_t)((seconds) * 20))
#define NEVER 60000U
#define SETTLED_MOST 200
#define GRAMS_PER_ML Q24(1.03)

/* The same figures as in the host's rules (pace profile). */
#define AGAIN STEPS(45)
#define AGAIN_POURING STEPS(15)
#define EASED 80 /* 4 s */
#define EASED_GRAMS Q16(0.3)
#define SLOWER STEPS(20)
#define SUCK_PAUSE STEPS(2)
#define BURP_TAKEN STEPS(5)
#define BURP_SHOWN STEPS(30)
/* cos 60° */
#define BOTTLE_UP Q16(0.5)
/* A bucket that overflows by less than this does not count yet, g. */
#define DOUBT Q16(0.3)

static fix grams(uint16_t ml) { return mul24(FROM_PARTS16(ml, 6), GRAMS_PER_ML); }

void alone_pace_begin(struct alone_pace *pace, const alone_profile *profile)
{
    uint8_t i;
    memset(pace, 0, sizeof *pace);
    for (i = 0; i < 2; i++) {
        struct alone_bucket *bucket = &pace->bucket[i];
        bucket->a_step = mul24(grams(profile->bucket[i].ml_per_min), Q24(1.0 / 1200));
        bucket->depth = grams(profile->bucket[i].depth_ml);
        bucket->armed = true;
        bucket->lowest = Q16(1000);
    }
    pace->since_cue = NEVER;
}

static fix drained(fix ahead, fix came, fix a_step, uint8_t steps)
{
    ahead += came - a_step * steps;
    return ahead > 0 ? ahead : 0;
}

/* Milk of before the last 10 s that is found only now was ahead of the pace too, if the bucket was not empty then. */
static void add_found(struct alone_pace *pace, fix found)
{
    uint8_t i;
    for (i = 0; i < 2; i++)
        if (pace->bucket[i].settled > 0)
            pace->bucket[i].settled = drained(pace->bucket[i].settled, found, 0, 0);
}

/* The buckets are settled up to 10 s ago and computed again from there, since the estimate corrects the time after. */
static void fill(struct alone_pace *pace, const struct alone_estimate *e)
{
    const bool moves_on = pace->settled_steps == SETTLED_MOST;
    uint8_t i, from = moves_on ? SETTLED_MOST : ++pace->settled_steps;
    fix milk = alone_milk_ago(e, from);
    add_found(pace, e->full - milk - pace->settled_intake);
    if (moves_on) {
        const fix next = alone_milk_ago(e, --from);
        for (i = 0; i < 2; i++)
            pace->bucket[i].settled = drained(pace->bucket[i].settled, milk - next, pace->bucket[i].a_step, 1);
        milk = next;
    }
    pace->settled_intake = e->full - milk;
    for (i = 0; i < 2; i++)
        pace->bucket[i].ahead = pace->bucket[i].settled;
    while (from > 0) {
        const uint8_t to = (uint8_t)((from - 1) / ALONE_PAST_STEPS * ALONE_PAST_STEPS);
        const fix next = alone_milk_ago(e, to);
        for (i = 0; i < 2; i++)
            pace->bucket[i].ahead = drained(pace->bucket[i].ahead, milk - next, pace->bucket[i].a_step, from - to);
        milk = next;
        from = to;
    }
}

/* After a pause half of the bucket's content remains. */
static void credit(struct alone_pace *pace, const struct alone_estimate *e)
{
    uint8_t i;
    for (i = 0; i < 2; i++) {
        struct alone_bucket *bucket = &pace->bucket[i];
        bucket->ahead = HALF(bucket->ahead);
        bucket->settled = bucket->ahead;
        bucket->owed = false;
        if (bucket->ahead < bucket->lowest)
            bucket->lowest = bucket->ahead;
    }
    pace->settled_steps = 0;
    pace->settled_intake = alone_intake(e);
    pace->active = false;
}

static bool is_due(const struct alone_pace *pace, const struct alone_bucket *bucket)
{
    if (bucket->ahead <= bucket->depth + DOUBT)
        return false;
    if (bucket->owed && pace->since_cue >= AGAIN)
        return true;
    return pace->since_cue < NEVER && bucket->ahead > bucket->lowest + bucket->depth &&
           pace->since_cue >= (pace->active ? AGAIN_POURING : AGAIN);
}

static bool too_fast(struct alone_pace *pace, const struct alone_estimate *e)
{
    bool due = false;
    uint8_t i;
    fill(pace, e);
    for (i = 0; i < 2; i++) {
        struct alone_bucket *bucket = &pace->bucket[i];
        if (bucket->armed && bucket->ahead > bucket->depth + DOUBT) {
            bucket->armed = false;
            bucket->owed = true;
        } else if (bucket->ahead < HALF(bucket->depth)) {
            bucket->armed = true;
            bucket->owed = false;
        }
        if (bucket->ahead < bucket->lowest)
            bucket->lowest = bucket->ahead;
        if (bucket->ahead > pace->peak[i]) {
            pace->peak[i] = bucket->ahead;
            pace->since_peak = 0;
        }
        due |= is_due(pace, bucket);
    }
    if (pace->since_cue < NEVER)
        pace->since_cue++;
    if (pace->since_peak < NEVER)
        pace->since_peak++;
    if ((pace->active || pace->bucket[0].owed || pace->bucket[1].owed) &&
        alone_milk_ago(e, EASED) - alone_milk_ago(e, 0) < EASED_GRAMS && pace->since_cue >= EASED)
        credit(pace, e);
    else if (pace->active && pace->since_peak >= SLOWER)
        pace->active = false;
    if (!due || !e->in_mouth)
        return false;
    pace->active = true;
    pace->since_cue = pace->since_peak = 0;
    for (i = 0; i < 2; i++) {
        pace->bucket[i].owed = false;
        pace->bucket[i].lowest = pace->peak[i] = pace->bucket[i].ahead;
    }
    return true;
}

static bool burp_due(struct alone_pace *pace, const struct alone_estimate *e, const alone_profile *profile, bool button)
{
    const fix intake = alone_intake(e);
    if (pace->burp_steps > 0)
        pace->burp_steps--;
    if (!e->in_mouth && e->surface[2] > BOTTLE_UP) {
        if (pace->up_steps < NEVER)
            pace->up_steps++;
    } else {
        pace->up_steps = 0;
    }
    if (pace->up_steps >= BURP_TAKEN || button) {
        pace->burp_from = intake;
        pace->burp_steps = 0;
    }
    if (intake - pace->burp_from < grams(profile->burp_ml))
        return false;
    if (e->pause_steps < SUCK_PAUSE && intake - pace->burp_from < grams(profile->burp_most_ml))
        return false;
    pace->burp_from = intake;
    return true;
}

enum alone_cue alone_pace_step(struct alone_pace *pace, const struct alone_estimate *e, const alone_profile *profile,
                               bool button)
{
    enum alone_cue began = ALONE_NO_CUE;
    if (!e->weighed)
        return ALONE_NO_CUE;
    if ((profile->may & ALONE_MAY_PACE) && too_fast(pace, e)) {
        began = ALONE_TOO_FAST;
        if (pace->cues < 255)
            pace->cues++;
    }
    if ((profile->may & ALONE_MAY_BURP) && burp_due(pace, e, profile, button)) {
        pace->burp_steps = BURP_SHOWN;
        if (pace->burps < 255)
            pace->burps++;
        if (began == ALONE_NO_CUE && !pace->active)
            began = ALONE_BURP;
    }
    pace->cue = pace->active ? ALONE_TOO_FAST : pace->burp_steps > 0 ? ALONE_BURP : ALONE_NO_CUE;
    return began;
}
