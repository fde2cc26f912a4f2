#include "config.h"

#include "alone_block.h"

#include "frames.h"
#include "nvm.h"

#include <avr/eeprom.h>

_Static_assert(sizeof(alone_head) + ALONE_NEEDS_BYTES + 2 <= ALONE_PLACE_BYTES, "it must fit its place");

const alone_moments *alone_kept_moments;

uint16_t block_address(uint8_t place) { return EEPROM_BLOCKS + (place ? ALONE_PLACE_BYTES : 0); }

static uint16_t checksum_of(uint16_t at)
{
    uint16_t crc = 0xffff;
    uint8_t i;
    for (i = 0; i < sizeof(alone_head) + ALONE_NEEDS_BYTES; i++) {
        const uint8_t byte = eeprom_read_byte((const uint8_t *)(at + i));
        crc = frame_checksum(crc, &byte, 1);
    }
    return crc;
}

static uint16_t kept_checksum(uint16_t at)
{
    return eeprom_read_word((const uint16_t *)(at + sizeof(alone_head) + ALONE_NEEDS_BYTES));
}

bool block_is_good(uint8_t place, uint8_t *why)
{
    const uint16_t at = block_address(place);
    alone_head head;
    alone_profile profile;
    nvm_read(at, &head, sizeof head);
    nvm_read(at + sizeof head, &profile, sizeof profile);
    if (checksum_of(at) != kept_checksum(at))
        *why = REFUSED_DAMAGED;
    else if (head.layout != ALONE_LAYOUT)
        *why = REFUSED_LAYOUT;
    else if (head.sleeve_number != eeprom_read_dword((const uint32_t *)EEPROM_SLEEVE_NUMBER))
        *why = REFUSED_SLEEVE;
    else if (!(profile.may & ALONE_MAY_PACE))
        *why = REFUSED_BABY;
    else
        return true;
    return false;
}

bool block_load(struct alone_needs *needs, uint8_t *generation, uint8_t *place, uint16_t *checksum, uint8_t *why)
{
    uint8_t generations[2], whys[2] = {0, 0};
    bool good[2];
    uint8_t i;
    for (i = 0; i < 2; i++) {
        good[i] = block_is_good(i, &whys[i]);
        generations[i] = eeprom_read_byte((const uint8_t *)(block_address(i) + 1));
    }
    *place = good[1] && (!good[0] || (int8_t)(generations[1] - generations[0]) > 0);
    *why = whys[0] == REFUSED_DAMAGED ? whys[1] : whys[0];
    *generation = good[*place] ? generations[*place] : 0;
    if (!good[*place])
        return false;
    nvm_read(block_address(*place) + sizeof(alone_head), needs, sizeof *needs);
    alone_kept_moments = (const alone_moments *)(block_address(*place) + sizeof(alone_head) + sizeof *needs);
    *checksum = kept_checksum(block_address(*place));
    return true;
}
