#include "config.h"

#include "alone.h"

#include "accelerometer.h"
#include "alone_block.h"
#include "alone_feeds.h"
#include "alone_pace.h"
#include "answers.h"
#include "button.h"
#include "frames.h"
#include "guidance.h"
#include "nvm.h"
#include "supply.h"

#include <avr/eeprom.h>
#include <string.h>

/* After a gap of more samples than this the estimate starts again. */
#define GAP_SAMPLES 4

static struct alone_needs needs;
static struct alone_estimate estimate;
static struct alone_pace pace;
static bool is_ready, is_on, is_running;
static uint8_t generation, place, parts, refused;
static uint16_t block_checksum;
static uint8_t missed;
/* What is left to do: a part was received and is being written; the checksum of a whole block is tested after that. */
static bool to_check, to_begin, to_pace, to_tell;

/* Two places used in turn, so that the old owner stays stored until the new one is complete. */
struct __attribute__((packed)) owner_record {
    uint32_t key;
    uint16_t checksum;
};
static uint32_t owner;
static uint8_t owner_place;
static bool to_own;

static uint16_t owner_address(uint8_t which) { return EEPROM_OWNERS + which * sizeof(struct owner_record); }
static bool is_key(uint32_t key) { return key != 0 && key != 0xffffffffUL; }
static bool is_owned(void) { return is_key(owner); }

static bool take_owner(uint8_t which)
{
    struct owner_record record;
    nvm_read(owner_address(which), &record, sizeof record);
    if (!is_key(record.key) || frame_checksum(0xffff, (const uint8_t *)&record.key, 4) != record.checksum)
        return false;
    owner = record.key;
    owner_place = which;
    return true;
}

static void refuse(uint8_t why)
{
    refused = why;
    if (why)
        guidance_refuse();
}

static void start(void)
{
    is_running = is_ready && is_on;
    if (!is_running) {
        guidance_own(OWN_NONE);
        return;
    }
    alone_estimate_begin(&estimate, &needs.calibration);
    alone_pace_begin(&pace, &needs.profile);
    feeds_begin();
    missed = 0;
}

static void load(void)
{
    uint8_t why = 0;
    is_ready = block_load(&needs, &generation, &place, &block_checksum, &why);
    if (!is_ready && is_on)
        refuse(why);
    start();
}

void alone_begin(void)
{
    if (!take_owner(1))
        take_owner(0);
    is_on = eeprom_read_byte((const uint8_t *)EEPROM_ALONE) == ALONE_ON;
    load();
}

static int32_t whole(const wire_i24 *count)
{
    const uint8_t *byte = count->byte;
    return (int32_t)((uint32_t)byte[0] << 8 | (uint32_t)byte[1] << 16 | (uint32_t)byte[2] << 24) >> 8;
}

static const sound_body two_notes = {440, 180, 160, 2}, one_note = {330, 180, 160, 1};

static void show(enum alone_cue began)
{
    guidance_own(!estimate.weighed                ? OWN_NONE
                 : pace.cue == ALONE_TOO_FAST     ? OWN_TOO_FAST
                 : pace.cue == ALONE_BURP         ? OWN_BURP
                 : supply_is_ending()             ? OWN_BATTERY
                 : estimate.in_mouth              ? OWN_GENTLE
                                                  : OWN_NONE);
    if (began != ALONE_NO_CUE && (needs.profile.may & ALONE_MAY_SOUND))
        guidance_own_sound(began == ALONE_TOO_FAST ? &two_notes : &one_note);
}

void alone_reading(const struct cells_reading *reading)
{
    int32_t counts[CELL_COUNT];
    int16_t axes[3];
    uint8_t i;
    if (!is_running)
        return;
    if (reading->faults || !accelerometer_latest(axes)) {
        if (missed < 255)
            missed++;
        return;
    }
    if (missed > GAP_SAMPLES)
        alone_estimate_gap(&estimate);
    missed = 0;
    for (i = 0; i < CELL_COUNT; i++)
        counts[i] = whole(&reading->counts[i]);
    /* Of four samples three compute a step in thirds, and the last runs the pace rules, so that no sample waits long. */
    if (alone_estimate_sample(&estimate, counts, axes)) {
        to_pace = true;
        return;
    }
    if (!to_pace)
        return;
    to_pace = false;
    show(alone_pace_step(&pace, &estimate, &needs.profile, button_is_down()));
    feeds_step(&estimate, &pace, guidance_is_guided());
}

void alone_poll(void)
{
    /* Writing starts only after the second third of a step: that third reads the EEPROM, and writing a byte takes 3.4 ms. */
    if (!is_running || estimate.part != 1)
        nvm_poll();
    if (nvm_is_busy())
        return;
    if (to_tell) {
        to_tell = false;
        answer_with(ANSWER_ALONE_STATE);
    }
    if (to_own) {
        const uint8_t before = owner_place;
        to_own = false;
        if (take_owner(before ^ 1))
            nvm_fill(owner_address(before), 0xff, sizeof(struct owner_record));
        answer_with(ANSWER_ALONE_STATE);
    } else if (to_check) {
        uint8_t why = 0;
        to_check = false;
        parts = 0;
        if (block_is_good(place ^ 1, &why))
            to_begin = true;
        else
            refuse(why);
        answer_with(ANSWER_ALONE_STATE);
    } else if (to_begin) {
        to_begin = false;
        load();
        answer_with(ANSWER_ALONE_STATE);
    } else {
        feeds_poll();
    }
}

/* A refusal is answered at once; a part that is accepted, after it was written. */
void alone_put(const alone_put_body *put)
{
    if (!is_owned() || put->owner != owner)
        refuse(REFUSED_OWNER);
    else if (put->part != 0 && put->part != parts)
        refuse(REFUSED_ORDER);
    else if (!to_check && nvm_write(block_address(place ^ 1) + put->part * NVM_MOST, put->bytes, NVM_MOST)) {
        refuse(0);
        parts = put->part + 1;
        to_check = parts == ALONE_PLACE_BYTES / NVM_MOST;
        to_tell = true;
        return;
    }
    answer_with(ANSWER_ALONE_STATE);
}

void alone_order(const alone_order_body *order)
{
    const bool is_new = order->order == 2;
    if (!is_key(order->owner) ||
        (order->owner != owner && !(is_new && (!is_owned() || button_is_down())))) {
        refuse(REFUSED_OWNER);
        answer_with(ANSWER_ALONE_STATE);
        return;
    }
    if (nvm_is_busy()) {
        answer_with(ANSWER_ALONE_STATE);
        return;
    }
    refuse(0);
    to_tell = order->order != 2;
    switch (order->order) {
    case 0:
    case 1: {
        const uint8_t on = order->order == 1 ? ALONE_ON : 0;
        is_on = order->order == 1;
        nvm_write(EEPROM_ALONE, &on, 1);
        to_begin = true;
        break;
    }
    case 2:
        if (order->owner == owner) {
            to_tell = true;
        } else {
            const struct owner_record record = {order->owner, frame_checksum(0xffff, (const uint8_t *)&order->owner, 4)};
            nvm_write(owner_address(owner_place ^ 1), &record, sizeof record);
            to_own = true;
        }
        break;
    case 3:
        feeds_forget();
        break;
    }
}

bool alone_get(const alone_get_body *get, alone_part_body *part)
{
    const uint16_t from = get->what == 0 ? block_address(place) : EEPROM_FEEDS;
    const uint16_t at = from + get->part * NVM_MOST;
    uint8_t i;
    if (!is_owned() || get->owner != owner) {
        refuse(REFUSED_OWNER);
        answer_with(ANSWER_ALONE_STATE);
        return false;
    }
    if (!nvm_can_read() || get->part >= 24)
        return false;
    part->what = get->what;
    part->part = get->part;
    for (i = 0; i < NVM_MOST; i++)
        part->bytes[i] = at + i <= E2END ? eeprom_read_byte((const uint8_t *)(at + i)) : 0xff;
    return true;
}

void alone_state(alone_state_body *state)
{
    state->layout = ALONE_LAYOUT;
    state->flags = (is_ready ? ALONE_STATE_IS_READY : 0) | (is_on ? ALONE_STATE_IS_ON : 0) |
                   (is_owned() ? ALONE_STATE_IS_OWNED : 0) | (nvm_is_busy() || to_check ? ALONE_STATE_IS_BUSY : 0) |
                   (is_running && !guidance_is_guided() ? ALONE_STATE_IS_ALONE : 0);
    state->generation = generation;
    state->parts = parts;
    state->refused = refused;
    state->feeds = feeds_kept();
    state->checksum = is_ready ? block_checksum : 0;
}
