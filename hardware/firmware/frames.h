/* Bodies as sent: checksum, and seven bits to a byte (sleeve contract, section 2). */
#ifndef EBBLINE_FRAMES_H
#define EBBLINE_FRAMES_H

#include <stdbool.h>
#include <stdint.h>

#define MESSAGE_START 0xf0
#define MESSAGE_END 0xf7

/* Sends a whole message, or nothing: false if the queue has no room for it, or would have less than `reserve` left. */
bool frame_send(uint8_t id, const void *body, uint8_t body_bytes, uint8_t reserve);

/*
 * Unpacks a body of `body_bytes` from exactly the packed bytes that it needs.
 * False if their number is wrong or the checksum does not fit; *body is then not usable.
 */
/* CRC-16/CCITT-FALSE (sleeve contract, section 2) continued over more bytes; begins with 0xffff. */
uint16_t frame_checksum(uint16_t crc, const void *bytes, uint8_t count);

bool frame_read(void *body, uint8_t body_bytes, const uint8_t *packed, uint8_t packed_bytes);

#endif
