#include "config.h"

#include "guidance.h"

#include "clock.h"
#include "sound.h"

#include <string.h>

static uint8_t wanted[LIGHT_COLORS];
/* The host sends heartbeats, so only they count. */
static bool has_heartbeats;
static bool is_heard;
/* The host lives, and says that it guides. */
static bool is_guided;
static uint32_t heard;
/* Start of the blink. */
static uint32_t blink;
static bool is_lit;

static void show_quiet(uint32_t now)
{
    const bool lit = now - blink < QUIET_ON;
    uint8_t duty[LIGHT_COLORS];
    if (lit == is_lit)
        return;
    is_lit = lit;
    memset(duty, lit ? QUIET_DUTY : 0, sizeof duty);
    light_show(duty);
}

static void go_quiet(uint32_t now)
{
    const uint8_t dark[LIGHT_COLORS] = {0, 0, 0};
    is_guided = false;
    sound_stop();
    memset(wanted, 0, sizeof wanted);
    light_show(dark);
    is_lit = false;
    blink = now;
    show_quiet(now);
}

static void hear(uint32_t now, bool guides)
{
    heard = now;
    is_heard = true;
    if (guides && !is_guided) {
        is_guided = true;
        light_show(wanted);
    } else if (!guides && is_guided) {
        go_quiet(now);
    }
}

void guidance_begin(void)
{
    light_begin();
    sound_begin();
    go_quiet(clock_micros());
}

void guidance_poll(void)
{
    const uint32_t now = clock_micros();
    sound_poll();
    if (is_heard && now - heard >= HEARTBEAT_LIMIT) {
        is_heard = false;
        if (is_guided)
            go_quiet(now);
    }
    if (!is_guided) {
        if (now - blink >= QUIET_PERIOD)
            blink += QUIET_PERIOD;
        show_quiet(now);
    }
}

void guidance_heartbeat(bool on)
{
    has_heartbeats = true;
    hear(clock_micros(), on);
}

void guidance_light(uint8_t color, uint8_t duty)
{
    if (!has_heartbeats)
        hear(clock_micros(), true);
    if (!is_guided)
        return;
    wanted[color] = duty;
    light_show(wanted);
}

void guidance_sound(const sound_body *sound)
{
    if (!has_heartbeats)
        hear(clock_micros(), true);
    if (is_guided)
        sound_play(sound);
}

void guidance_new_host(void)
{
    has_heartbeats = false;
}

uint8_t guidance_duty(uint8_t color) { return wanted[color]; }
