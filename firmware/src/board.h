/* What a board must offer. board_mega2560.c is the first; another chip needs another such file. */
#ifndef BW_BOARD_H
#define BW_BOARD_H

#include <stdbool.h>
#include <stdint.h>

#define TICK_HZ 2000000UL
/* Of full drive: coarser ones would hunt for a low speed that lies between two. */
#define DRIVE_STEPS 32000

/* Of board_inputs(); a broken wire reads as the safe state. */
#define GUARD_OPEN 1
#define STOP_PRESSED 2

/* Clock, ports and serial line, interrupts still off; everything that moves is off. */
void board_init(void);
/* Starts the interrupts. */
void board_start(void);

/* Ticks of half a microsecond since boot, modulo 2^32. */
uint32_t board_ticks(void);
/* Grows with each boot. */
uint32_t board_boot_count(void);
/* A number that nobody can foretell; new at each call. */
uint32_t board_chance(void);

uint8_t board_inputs(void);

/* Takes power from drive, pump and valves at once. Safe from anywhere, an interrupt too. */
void board_all_off(void);
/* Drive as a share of full, 0 to 1. Does nothing after safety has tripped. */
void board_drive(float share, bool ccw);
void board_drive_off(void);
/* Pump and bleed as shares of full. */
void board_vacuum_control(float pump, float bleed);
void board_vacuum_hold(void);
void board_vacuum_vent(void);

/* Mean of the sensor's voltage since the last call, in mV. */
float board_sensor_mv(void);

/* The next byte from the host; -1 where there is none. */
int16_t board_receive(void);
/* Bytes that board_send takes without waiting. */
uint16_t board_send_room(void);
void board_send(const char *bytes, uint8_t count);

/* Says that the main loop lives. Without it for 120 ms the board starts anew. */
void board_alive(void);
/* Waits for the next interrupt. */
void board_sleep(void);

#endif
