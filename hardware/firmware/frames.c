#include "frames.h"

#include "line.h"
#include "messages.h"

#include <string.h>
#include <util/crc16.h>

static uint8_t packed_length(uint8_t bytes) { return (uint8_t)(((uint16_t)bytes * 8 + 6) / 7); }

/* CRC-16/CCITT-FALSE is the XMODEM polynomial from 0xffff on. */
static uint16_t checksum(const uint8_t *bytes, uint8_t count)
{
    uint16_t crc = 0xffff;
    while (count--)
        crc = _crc_xmodem_update(crc, *bytes++);
    return crc;
}

/* Seven bits to a byte, lowest first. */
struct packer {
    uint16_t pending;
    uint8_t bits;
};

static void pack(struct packer *packer, uint8_t byte)
{
    packer->pending |= (uint16_t)byte << packer->bits;
    packer->bits += 8;
    while (packer->bits >= 7) {
        line_put(packer->pending & 0x7f);
        packer->pending >>= 7;
        packer->bits -= 7;
    }
}

bool frame_send(uint8_t id, const void *body, uint8_t body_bytes, uint8_t reserve)
{
    const uint8_t *bytes = body;
    struct packer packer = {0, 0};
    uint16_t crc;
    uint8_t i;
    if (line_room() < 3 + packed_length(body_bytes + CRC_BYTES) + reserve)
        return false;
    crc = checksum(bytes, body_bytes);
    line_put(MESSAGE_START);
    line_put(id);
    for (i = 0; i < body_bytes; i++)
        pack(&packer, bytes[i]);
    pack(&packer, crc & 0xff);
    pack(&packer, crc >> 8);
    if (packer.bits > 0)
        line_put(packer.pending & 0x7f);
    line_put(MESSAGE_END);
    return true;
}

bool frame_read(void *body, uint8_t body_bytes, const uint8_t *packed, uint8_t packed_bytes)
{
    uint8_t bytes[HOST_BODY_MOST];
    uint16_t pending = 0;
    uint8_t bits = 0;
    uint8_t i;
    uint16_t crc;
    if (body_bytes + CRC_BYTES > HOST_BODY_MOST || packed_bytes != packed_length(body_bytes + CRC_BYTES))
        return false;
    for (i = 0; i < body_bytes + CRC_BYTES; i++) {
        while (bits < 8) {
            pending |= (uint16_t)*packed++ << bits;
            bits += 7;
        }
        bytes[i] = pending & 0xff;
        pending >>= 8;
        bits -= 8;
    }
    crc = checksum(bytes, body_bytes);
    if (bytes[body_bytes] != (crc & 0xff) || bytes[body_bytes + 1] != crc >> 8)
        return false;
    memcpy(body, bytes, body_bytes);
    return true;
}
