/* Lines: written field by field into one buffer, and read field by field (part 1). */
#ifndef BW_LINE_H
#define BW_LINE_H

#include <stdbool.h>
#include <stdint.h>

/* With its LF. */
#define LINE_MAX 240

/* Begins a line with a type word that lies in program memory. */
void line_begin(const char *type);
void line_text(const char *text);
void line_char(char c);
void line_comma(void);
void line_whole(uint32_t value);
/* After a comma, as most fields are. */
void line_field(uint32_t value);
void line_tenths(uint32_t tenths);
void line_hex(uint32_t value);
/* Closes it with its CRC and sends it, waiting for room where there is none. Gives its length. */
uint8_t line_send(void);

/* Checks framing and CRC of a received line without LF, which ends up as a text without CRC. */
bool line_check(char *text, uint8_t count);

/* Reads on from a place in a line's body. Each gives false where the field is not of its form. */
bool read_whole(const char **at, uint32_t *value);
bool read_tenths(const char **at, uint32_t *tenths);
bool read_token(const char **at, uint32_t *token);
/* A word of at most 7 letters; longer ones are cut, and so match nothing. */
void read_word(const char **at, char word[8]);

#endif
