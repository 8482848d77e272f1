/* Bytes from the host to commands, each done once and answered (parts 4 and 5). */
#ifndef BW_COMMANDS_H
#define BW_COMMANDS_H

/* Takes what bytes have come. */
void commands_take(void);
/* The `hello` that nobody asked for, after boot. */
void commands_greet(void);

#endif
