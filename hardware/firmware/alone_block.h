/*
 * What the sleeve needs to guide alone, in EEPROM: two places used in turn, each with layout, generation, sleeve number
 * and checksum. The newest one with a right checksum is used; a new one overwrites the other, so that a good one is
 * always there.
 */
#ifndef EBBLINE_ALONE_BLOCK_H
#define EBBLINE_ALONE_BLOCK_H

#include "alone_pace.h"

#define ALONE_LAYOUT 2
#define ALONE_PLACE_BYTES 224
#define ALONE_ON 0xa5

enum { REFUSED_OWNER = 1, REFUSED_LAYOUT, REFUSED_SLEEVE, REFUSED_DAMAGED, REFUSED_ORDER, REFUSED_BABY };

struct alone_needs {
    alone_profile profile;
    alone_calibration calibration;
};

/* Bytes of both as stored, with the milk's moments. */
#define ALONE_NEEDS_BYTES (sizeof(struct alone_needs) + sizeof(alone_moments))

typedef struct __attribute__((packed)) {
    uint8_t layout, generation;
    uint32_t sleeve_number;
} alone_head;

uint16_t block_address(uint8_t place);

/* If it is not, *why tells the reason. */
bool block_is_good(uint8_t place, uint8_t *why);

/* Loads the newest good one; false if there is none. *place is its place, else 0. */
bool block_load(struct alone_needs *needs, uint8_t *generation, uint8_t *place, uint16_t *checksum, uint8_t *why);

#endif
