#include "line.h"

#include <avr/pgmspace.h>
#include <stdlib.h>
#include <string.h>

#include "board.h"
#include "crc32.h"

static char buffer[LINE_MAX];
static uint8_t length;

void line_begin(const char *type) {
  strcpy_P(buffer, type);
  length = (uint8_t)strlen(buffer);
}

void line_text(const char *text) {
  while (pgm_read_byte(text) != 0) line_char((char)pgm_read_byte(text++));
}

void line_char(char c) { buffer[length++] = c; }

void line_comma(void) { line_char(','); }

void line_whole(uint32_t value) {
  ultoa(value, buffer + length, 10);
  length += (uint8_t)strlen(buffer + length);
}

void line_field(uint32_t value) {
  line_comma();
  line_whole(value);
}

void line_tenths(uint32_t tenths) {
  line_whole(tenths / 10);
  uint8_t digit = (uint8_t)(tenths % 10);
  if (digit == 0) return;
  line_char('.');
  line_char((char)('0' + digit));
}

void line_hex(uint32_t value) {
  for (int8_t shift = 28; shift >= 0; shift -= 4) {
    uint8_t digit = (uint8_t)(value >> shift) & 15;
    line_char((char)(digit < 10 ? '0' + digit : 'A' - 10 + digit));
  }
}

uint8_t line_send(void) {
  uint32_t crc = crc32(buffer, length);
  line_char('*');
  line_hex(crc);
  line_char('\n');
  while (board_send_room() < length) board_alive();
  board_send(buffer, length);
  return length;
}

static int8_t hex_digit(char c) {
  if (c >= '0' && c <= '9') return (int8_t)(c - '0');
  if (c >= 'A' && c <= 'F') return (int8_t)(c - 'A' + 10);
  return -1;
}

static bool read_hex(const char *digits, uint32_t *value) {
  *value = 0;
  for (uint8_t i = 0; i < 8; i++) {
    int8_t digit = hex_digit(digits[i]);
    if (digit < 0) return false;
    *value = *value << 4 | (uint8_t)digit;
  }
  return true;
}

bool line_check(char *text, uint8_t count) {
  uint32_t crc;
  if (count < 9 || text[count - 9] != '*') return false;
  if (!read_hex(text + count - 8, &crc) || crc != crc32(text, (uint8_t)(count - 9))) return false;
  text[count - 9] = 0;
  return true;
}

/* A field ends at a comma, which is passed over, or with the line. */
static bool field_ends(const char **at) {
  if (**at == 0) return true;
  if (**at != ',') return false;
  ++*at;
  return true;
}

static bool read_digits(const char **at, uint32_t *value) {
  const char *p = *at;
  if (*p < '0' || *p > '9') return false;
  if (*p == '0' && p[1] >= '0' && p[1] <= '9') return false;
  *value = 0;
  for (; *p >= '0' && *p <= '9'; p++) {
    uint8_t digit = (uint8_t)(*p - '0');
    if (*value > 429496729UL || (*value == 429496729UL && digit > 5)) return false;
    *value = *value * 10 + digit;
  }
  *at = p;
  return true;
}

bool read_whole(const char **at, uint32_t *value) {
  return read_digits(at, value) && field_ends(at);
}

bool read_tenths(const char **at, uint32_t *tenths) {
  uint32_t whole;
  if (!read_digits(at, &whole)) return false;
  /* Far beyond any range, so that what follows cannot run over. */
  if (whole > 100000000UL) whole = 100000000UL;
  *tenths = whole * 10;
  if (**at == '.') {
    ++*at;
    if (**at < '0' || **at > '9') return false;
    *tenths += (uint8_t)(*(*at)++ - '0');
  }
  return field_ends(at);
}

bool read_token(const char **at, uint32_t *token) {
  if (strnlen(*at, 8) < 8 || !read_hex(*at, token)) return false;
  *at += 8;
  return field_ends(at);
}

void read_word(const char **at, char word[8]) {
  uint8_t n = 0;
  while (**at != 0 && **at != ',') {
    if (n < 7) word[n++] = **at;
    else n = 7;
    ++*at;
  }
  word[n] = 0;
  (void)field_ends(at);
}
