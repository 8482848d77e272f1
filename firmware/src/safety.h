/* What stops the rig by itself, from interrupts, whatever the main loop does (part 6). Not an emergency stop. */
#ifndef BW_SAFETY_H
#define BW_SAFETY_H

#include <stdbool.h>
#include <stdint.h>

#include "board.h"
#include "config.h"

#define TRIP_GUARD 1
#define TRIP_STOP 2
#define TRIP_OVERSPEED 4
#define TRIP_ALIVE 8

#define ALIVE_MS 400
/* Ticks of a turn at 110 % of the highest speed (6.4). */
#define OVERSPEED_TURN_TICKS ((uint32_t)(TICK_HZ * 600ULL * 10 / (11ULL * MAX_RPM_TENTHS)))

/* What tripped since the main loop took it; nothing moves while any is set. */
extern volatile uint8_t safety_trips;
/* Milliseconds until the stay-alive expires; 0: no token in force. */
extern volatile uint16_t safety_alive_ms;
/* Armed or turning: guard and stop input count. */
extern volatile bool safety_watching;
/* Tick of the last index, while the spindle has not stood still since. */
extern volatile uint32_t safety_index_tick;
extern volatile bool safety_index_known;

static inline void safety_trip(uint8_t trip) {
  board_all_off();
  safety_trips |= trip;
}

/* Each millisecond, from an interrupt. */
static inline void safety_millisecond(void) {
  if (safety_watching) {
    uint8_t inputs = board_inputs();
    if (inputs & GUARD_OPEN) safety_trip(TRIP_GUARD);
    else if (inputs & STOP_PRESSED) safety_trip(TRIP_STOP);
  }
  if (safety_alive_ms > 0 && --safety_alive_ms == 0) safety_trip(TRIP_ALIVE);
}

/* At each index, from its interrupt. */
static inline void safety_index(uint32_t tick) {
  if (safety_index_known && tick - safety_index_tick < OVERSPEED_TURN_TICKS) {
    safety_trip(TRIP_OVERSPEED);
  }
  safety_index_tick = tick;
  safety_index_known = true;
}

#endif
