/* CRC-32/ISO-HDLC (clause 1.3). */
#ifndef BW_CRC32_H
#define BW_CRC32_H

#include <stdint.h>

uint32_t crc32(const char *bytes, uint8_t count);

#endif
