/* The rig's condition: token, faults, drive and line; what it reports and what it does when told. */
#ifndef BW_RIG_H
#define BW_RIG_H

#include <stdbool.h>
#include <stdint.h>

#include "edges.h"

enum fault { FAULT_NONE, FAULT_ALIVE, FAULT_GUARD, FAULT_STOP, FAULT_OVERSPEED, FAULT_STALL, FAULT_SENSOR };

void rig_boot(void);
/* An index pulse. */
void rig_index(uint32_t tick);
/* Takes what tripped, watches, controls and reports. */
void rig_step(void);

/* What `stop` does (4.4). */
void rig_stop(void);
/* Clears a fault whose cause is gone (6.2). */
void rig_clear_fault(void);
bool rig_latched(void);
bool rig_armed(uint32_t token);
bool rig_has_token(void);
uint32_t rig_arm(void);
void rig_alive(void);
/* The spindle turns, driven or coasting. */
bool rig_turning(void);
bool rig_is_ccw(void);
void rig_speed(bool ccw, uint32_t rpm_tenths, uint32_t ramp_tenths);
void rig_vacuum(uint32_t pascals);
void rig_hold(void);
void rig_vent(void);

#endif
