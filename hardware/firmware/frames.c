#include "frames.h"

#include "line.h"
#include "messages.h"

#include <util/crc16.h>

static uint8_t packed_length(uint8_t bytes) { return (uint8_t)(((uint16_t)bytes * 8 + 6) / 7); }

/* With the XMODEM polynomial. */
uint16_t frame_checksum(uint16_t crc, const void *bytes, uint8_t count)
{
    const uint8_t *byte = bytes;
    while (count--)
        crc = _crc_xmodem_update(crc, *byte++);
    return crc;
}

/* Packs seven bits to a byte, lowest first. */
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
    crc = frame_checksum(0xffff, bytes, body_bytes);
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
    uint8_t *out = body;
    uint16_t pending = 0, sent = 0;
    uint8_t bits = 0;
    uint8_t i;
    if (packed_bytes != packed_length(body_bytes + CRC_BYTES))
        return false;
    for (i = 0; i < body_bytes + CRC_BYTES; i++) {
        while (bits < 8) {
            pending |= (uint16_t)*packed++ << bits;
            bits += 7;
        }
        if (i < body_bytes)
            *out++ = pending & 0xff;
        else
            sent = sent >> 8 | pending << 8;
        pending >>= 8;
        bits -= 8;
    }
    return sent == frame_checksum(0xffff, body, body_bytes);
}
