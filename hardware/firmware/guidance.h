/*
 * Who speaks through light and buzzer: the host while it lives and says that it guides, else nobody, and the light says
 * so ("no guidance"). The host lives while its heartbeats come. A general Firmata host, which knows of none, is taken at its word for as
 * long after each of its writes. A cue of a host that has died is forgotten: it never comes back.
 */
#ifndef EBBLINE_GUIDANCE_H
#define EBBLINE_GUIDANCE_H

#include "light.h"
#include "messages.h"

#include <stdbool.h>

void guidance_begin(void);

/* To be called often. */
void guidance_poll(void);

/* The host lives; `on`: it guides. Otherwise its light and sound are not shown, and what they were is forgotten. */
void guidance_heartbeat(bool on);

/* The host wants one color of the light at `duty`. */
void guidance_light(uint8_t color, uint8_t duty);

void guidance_sound(const sound_body *sound);

/* A host lives and guides. */
bool guidance_is_guided(void);

/* What the sleeve itself has to say while no host guides; also in the first seconds of one that shows nothing yet. */
enum own_sign { OWN_NONE, OWN_GENTLE, OWN_TOO_FAST, OWN_BURP, OWN_BATTERY };
void guidance_own(enum own_sign sign);
void guidance_own_sound(const sound_body *sound);
/* Something was refused: three dim red glows, where no cue of a host stands. */
void guidance_refuse(void);

/* A host makes itself known anew: without heartbeats it is a general one. */
void guidance_new_host(void);

/* What the host wants of a color at present. */
uint8_t guidance_duty(uint8_t color);

#endif
