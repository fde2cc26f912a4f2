#include "config.h"

#include "alone_feeds.h"

#include "nvm.h"

#include <avr/eeprom.h>

/* One feed: this header, and one byte a minute, the intake in quarters of a gram; 0xff: no minute. */
typedef struct __attribute__((packed)) {
    /* 0 to 249, increases with each feed; 0xff: no feed. */
    uint8_t serial;
    uint8_t too_fast, burps;
    /* Minutes in which the host guided. */
    uint8_t guided_minutes;
    uint16_t intake; /* g, 4 bits after the point */
    uint8_t minutes;
    /* Added to the bytes before it gives WHOLE; if the battery is removed while they are written it does not. */
    uint8_t check;
} feed_head;
_Static_assert(sizeof(feed_head) + FEED_MINUTES == FEED_BYTES, "a feed has no gaps");

#define SERIALS 250
#define WHOLE 0x5a
#define MINUTE_STEPS 1200
/* With the nipple out for this long the feed is over: 45 min, as on the host. */
#define OVER_STEPS 54000U

static bool is_open;
static uint8_t slot, serial;
static uint16_t steps, guided_steps;
static fix minute_from;
static feed_head head;
static uint8_t minute_byte;
static enum { IDLE, CLEAR, CLEAR_REST, MINUTE, HEAD, FORGET } job;
static uint8_t forget_at;

static uint16_t address_of(uint8_t which) { return EEPROM_FEEDS + which * FEED_BYTES; }

static uint8_t serial_of(uint8_t which) { return eeprom_read_byte((const uint8_t *)address_of(which)); }

/* Continues after the newest feed, found by serial; ten consecutive serials are stored. */
void feeds_begin(void)
{
    uint8_t i;
    is_open = false;
    job = IDLE;
    slot = 0;
    serial = 0;
    for (i = 0; i < FEED_COUNT; i++) {
        const uint8_t here = serial_of(i), next = serial_of((i + 1) % FEED_COUNT);
        if (here < SERIALS && next != (here + 1) % SERIALS) {
            slot = (i + 1) % FEED_COUNT;
            serial = (here + 1) % SERIALS;
        }
    }
}

uint8_t feeds_kept(void)
{
    uint8_t i, kept = 0;
    for (i = 0; i < FEED_COUNT; i++)
        if (serial_of(i) < SERIALS)
            kept++;
    return kept;
}

void feeds_forget(void)
{
    is_open = false;
    forget_at = 0;
    job = FORGET;
}

static void open(const struct alone_estimate *e)
{
    is_open = true;
    steps = guided_steps = 0;
    minute_from = alone_intake(e);
    head.serial = serial;
    head.too_fast = head.burps = head.guided_minutes = head.minutes = 0;
    head.intake = 0;
    job = CLEAR;
}

static void end_minute(const struct alone_estimate *e)
{
    const fix intake = alone_intake(e);
    const fix drunk = (intake - minute_from) >> 14;
    minute_byte = drunk < 0 ? 0 : drunk > 254 ? 254 : (uint8_t)drunk;
    minute_from = intake;
    if (guided_steps > MINUTE_STEPS / 2)
        head.guided_minutes++;
    guided_steps = 0;
    if (head.minutes < FEED_MINUTES)
        job = MINUTE;
}

void feeds_step(const struct alone_estimate *e, const struct alone_pace *pace, bool is_guided)
{
    static fix feed_from;
    static uint8_t cues_from, burps_from;
    if (!e->weighed)
        return;
    if (!is_open) {
        if (!e->in_mouth || job != IDLE)
            return;
        open(e);
        feed_from = alone_intake(e);
        cues_from = pace->cues;
        burps_from = pace->burps;
    }
    if (is_guided)
        guided_steps++;
    head.too_fast = pace->cues - cues_from;
    head.burps = pace->burps - burps_from;
    {
        const fix drunk = (alone_intake(e) - feed_from) >> 12;
        head.intake = drunk < 0 ? 0 : (uint16_t)drunk;
    }
    if (++steps >= MINUTE_STEPS) {
        steps = 0;
        end_minute(e);
    }
    if (!e->in_mouth && e->out_steps >= OVER_STEPS) {
        is_open = false;
        slot = (slot + 1) % FEED_COUNT;
        serial = (serial + 1) % SERIALS;
    }
}

void feeds_poll(void)
{
    const uint16_t at = address_of(slot);
    uint8_t i;
    switch (job) {
    case CLEAR:
        nvm_fill(at, 0xff, FEED_BYTES / 2);
        job = CLEAR_REST;
        break;
    case CLEAR_REST:
        nvm_fill(at + FEED_BYTES / 2, 0xff, FEED_BYTES / 2);
        job = HEAD;
        break;
    case MINUTE:
        nvm_fill(at + sizeof head + head.minutes, minute_byte, 1);
        head.minutes++;
        job = HEAD;
        break;
    case HEAD:
        head.check = WHOLE;
        for (i = 0; i < sizeof head - 1; i++)
            head.check -= ((const uint8_t *)&head)[i];
        nvm_write(at, &head, sizeof head);
        job = IDLE;
        break;
    case FORGET:
        nvm_fill(address_of(forget_at), 0xff, 1);
        if (++forget_at == FEED_COUNT) {
            job = IDLE;
            slot = 0;
        }
        break;
    case IDLE:
        break;
    }
}
