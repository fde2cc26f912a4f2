/*
 * What the sleeve needs to guide alone, as it is kept: two places in turn, each with layout, generation, the sleeve it is
 * for and a checksum. The newest whole one counts; a new one is written over the other, so that the last good one stays
 * whatever happens meanwhile.
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

/* Bytes of both as they are kept, with the milk's moments. */
#define ALONE_NEEDS_BYTES (sizeof(struct alone_needs) + sizeof(alone_moments))

typedef struct __attribute__((packed)) {
    uint8_t layout, generation;
    uint32_t sleeve_number;
} alone_head;

uint16_t block_address(uint8_t place);

/* *why is set where it is not. */
bool block_is_good(uint8_t place, uint8_t *why);

/* Loads the newest good one; false when there is none. *place is its place, else 0. */
bool block_load(struct alone_needs *needs, uint8_t *generation, uint8_t *place, uint16_t *checksum, uint8_t *why);

#endif
