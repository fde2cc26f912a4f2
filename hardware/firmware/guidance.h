/*
 * Who controls light and buzzer: the host, while it sends signs of life and says that guidance is on; else nobody, and the light
 * shows "no guidance". Signs of life are its heartbeats. A general Firmata host sends none; each of its writes counts instead,
 * for as long. A cue of a host that has fallen silent is forgotten and never comes back.
 */
#ifndef EBBLINE_GUIDANCE_H
#define EBBLINE_GUIDANCE_H

#include "light.h"
#include "messages.h"

#include <stdbool.h>

void guidance_begin(void);

/* To be called often. */
void guidance_poll(void);

/* A heartbeat of the host; `on`: guidance is on. If not, its light and sound are not shown, and are forgotten. */
void guidance_heartbeat(bool on);

/* The host sets one color of the light to `duty`. */
void guidance_light(uint8_t color, uint8_t duty);

void guidance_sound(const sound_body *sound);

/* A host is there, and guidance is on. */
bool guidance_is_guided(void);

/* What the sleeve itself shows while no host guides; also in the first seconds of a host that shows nothing yet. */
enum own_sign { OWN_NONE, OWN_GENTLE, OWN_TOO_FAST, OWN_BURP, OWN_BATTERY };
void guidance_own(enum own_sign sign);
void guidance_own_sound(const sound_body *sound);
/* Something was refused: three dim red flashes, unless a host's cue is shown. */
void guidance_refuse(void);

/* A new host: until its first heartbeat it counts as a general one. */
void guidance_new_host(void);

/* The level of a color that the host has set. */
uint8_t guidance_duty(uint8_t color);

#endif
