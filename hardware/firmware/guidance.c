#include "config.h"

#include "guidance.h"

#include "clock.h"
#include "sound.h"

#include <avr/pgmspace.h>
#include <string.h>

static uint8_t wanted[LIGHT_COLORS];
/* The host sends heartbeats, so its other writes do not count as signs of life. */
static bool has_heartbeats;
static bool is_heard;
/* The host is there, and its heartbeats say that guidance is on. */
static bool is_guided;
static uint32_t heard;
/* Start of the blink. */
static uint32_t blink;
static bool is_lit;

/* The same patterns as the host's (light-language.ts), which differ by rhythm first. */
struct sign {
    uint8_t tint[LIGHT_COLORS];
    /* On, off, on, off; twentieths of a second. */
    uint8_t rhythm[4];
};
static const struct sign signs[] PROGMEM = {
    [OWN_NONE] = {{QUIET_DUTY, QUIET_DUTY, QUIET_DUTY}, {QUIET_ON / 50000UL, (QUIET_PERIOD - QUIET_ON) / 50000UL, 0, 0}},
    [OWN_GENTLE] = {{6, 4, 1}, {20, 0, 0, 0}},
    [OWN_TOO_FAST] = {{255, 96, 16}, {24, 8, 0, 0}},
    [OWN_BURP] = {{140, 120, 90}, {10, 10, 10, 50}},
    [OWN_BATTERY] = {{0, 0, 16}, {60, 20, 0, 0}},
};
static const uint8_t refusal[LIGHT_COLORS] = {70, 0, 0};
static enum own_sign own;
static uint32_t guided_since;
static bool own_goes_on;
static bool is_refusing;
static uint32_t refused_since;

static void show_own(uint32_t now)
{
    static const uint8_t dark[LIGHT_COLORS] = {0, 0, 0};
    struct sign sign;
    uint32_t at = now - blink, edge = 0;
    uint8_t part;
    bool lit = false;
    memcpy_P(&sign, &signs[own], sizeof sign);
    for (part = 0; part < 4; part++) {
        edge += 50000UL * sign.rhythm[part];
        if (at < edge) {
            lit = !(part & 1);
            break;
        }
    }
    if (part == 4) {
        blink = now;
        lit = true;
    }
    light_show(lit ? sign.tint : dark);
    is_lit = lit;
}

/* Half a second on, half a second off, three times. */
static bool show_refusal(uint32_t now)
{
    static const uint8_t dark[LIGHT_COLORS] = {0, 0, 0};
    const uint32_t at = now - refused_since;
    if (!is_refusing)
        return false;
    if (at >= 3000000UL) {
        is_refusing = false;
        light_show(wanted);
        return false;
    }
    light_show(at % 1000000UL < 500000UL ? refusal : dark);
    return true;
}

/* Darker than the darkest cue of a host. */
static bool host_shows_no_cue(void) { return (uint16_t)wanted[0] + wanted[1] + wanted[2] < 65; }

static void go_quiet(uint32_t now)
{
    const uint8_t dark[LIGHT_COLORS] = {0, 0, 0};
    is_guided = false;
    sound_stop();
    memset(wanted, 0, sizeof wanted);
    light_show(dark);
    blink = now;
    show_own(now);
}

static void hear(uint32_t now, bool guides)
{
    heard = now;
    is_heard = true;
    if (guides && !is_guided) {
        is_guided = true;
        guided_since = now;
        /* An active cue continues when the host takes over. */
        own_goes_on = own == OWN_TOO_FAST || own == OWN_BURP;
        if (!own_goes_on)
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
    if (is_refusing && (!is_guided || host_shows_no_cue()) && show_refusal(now))
        return;
    if (!is_guided || own_goes_on) {
        if (is_guided && (now - guided_since >= OWN_GOES_ON || !host_shows_no_cue())) {
            own_goes_on = false;
            light_show(wanted);
            return;
        }
        show_own(now);
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
    if (!own_goes_on)
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

bool guidance_is_guided(void) { return is_guided; }

void guidance_own(enum own_sign sign)
{
    if (sign == own)
        return;
    own = sign;
    blink = clock_micros();
}

void guidance_own_sound(const sound_body *sound)
{
    if (!is_guided)
        sound_play(sound);
}

void guidance_refuse(void)
{
    is_refusing = true;
    refused_since = clock_micros();
}
