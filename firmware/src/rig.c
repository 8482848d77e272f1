#include "rig.h"

#include <avr/pgmspace.h>
#include <util/atomic.h>

#include "board.h"
#include "config.h"
#include "line.h"
#include "safety.h"
#include "speed.h"
#include "turns.h"
#include "vacuum.h"

#define STEP_TICKS (TICK_HZ / 200)
#define STATE_TICKS (TICK_HZ / 11)
#define VACUUM_TICKS (TICK_HZ / 25)
#define SECONDS(ticks) ((float)(ticks) / TICK_HZ)
#define STALL_S 0.5f
#define STALL_TURNS 1.5f
#define FROM_REST_S 1.0f
/* By how much this board is early, so that the drive is off when the time is up. */
#define EARLY_S 0.01f

volatile uint8_t safety_trips;
volatile uint16_t safety_alive_ms;
volatile bool safety_watching;
volatile uint32_t safety_index_tick;
volatile bool safety_index_known;

enum valve { VALVE_VENT, VALVE_CONTROL, VALVE_HOLD };

static bool has_token;
static uint32_t current_token;
static uint32_t last_token;
static enum fault fault;
static uint32_t set_rpm_tenths;
static bool has_turned;
static bool is_ccw;
static enum valve valve;

static bool spindle_known;
static uint32_t last_index;
/* Of the last whole turn; 0: none since the spindle stood still. */
static uint32_t turn_ticks;
static uint32_t drive_since;
static bool from_rest;

static float sensor_pa;
static bool sensor_failed;
static uint32_t sensor_tick;

static uint32_t last_step;
static uint32_t last_state;
static uint32_t last_vacuum;
static uint32_t state_sequence;
static uint32_t vacuum_sequence;
/* What a change of which is told at once (3.5). */
static uint8_t told;

static float now_rpm(uint32_t now) {
  if (!spindle_known || turn_ticks == 0) return 0;
  uint32_t since = now - last_index;
  return 60.0f * TICK_HZ / (since > turn_ticks ? since : turn_ticks);
}

static float stall_s(float rpm) {
  float turn = rpm > 0 ? STALL_TURNS * 60 / rpm : 1e6f;
  return turn > STALL_S ? turn : STALL_S;
}

void rig_stop(void) {
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    board_all_off();
    safety_alive_ms = 0;
  }
  has_token = false;
  set_rpm_tenths = 0;
  speed_off();
  vacuum_off();
  valve = VALVE_VENT;
}

static void latch(enum fault what) {
  rig_stop();
  /* The first fault stays until it is cleared. */
  if (fault == FAULT_NONE || fault == FAULT_ALIVE) fault = what;
}

bool rig_latched(void) { return fault != FAULT_NONE && fault != FAULT_ALIVE; }

void rig_clear_fault(void) {
  uint8_t inputs = board_inputs();
  bool remains = (fault == FAULT_GUARD && (inputs & GUARD_OPEN)) ||
                 (fault == FAULT_STOP && (inputs & STOP_PRESSED)) ||
                 (fault == FAULT_OVERSPEED && now_rpm(board_ticks()) > 0.11f * MAX_RPM_TENTHS) ||
                 (fault == FAULT_SENSOR && sensor_failed);
  if (!remains) fault = FAULT_NONE;
}

bool rig_has_token(void) { return has_token; }

bool rig_armed(uint32_t token) { return has_token && token == current_token; }

uint32_t rig_arm(void) {
  rig_stop();
  fault = FAULT_NONE;
  do current_token = board_chance();
  while (current_token == last_token);
  last_token = current_token;
  has_token = true;
  /* An expiry that came in this moment was that of the token before. */
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { safety_trips &= (uint8_t)~TRIP_ALIVE; }
  rig_alive();
  return current_token;
}

void rig_alive(void) {
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    /* Not once it has run out: the main loop has yet to see that. */
    if (safety_trips == 0) safety_alive_ms = ALIVE_MS;
    safety_watching = true;
  }
}

bool rig_turning(void) { return speed_turning() || spindle_known; }

bool rig_is_ccw(void) { return is_ccw; }

void rig_speed(bool ccw, uint32_t rpm_tenths, uint32_t ramp_tenths) {
  uint32_t now = board_ticks();
  if (!speed_turning()) {
    drive_since = now;
    from_rest = !spindle_known;
  }
  speed_go_to(rpm_tenths / 10.0f, ramp_tenths / 10.0f, now_rpm(now));
  set_rpm_tenths = rpm_tenths;
  if (!speed_turning()) return;
  is_ccw = ccw;
  has_turned = true;
}

void rig_vacuum(uint32_t pascals) {
  vacuum_go_to(pascals, sensor_pa);
  valve = VALVE_CONTROL;
  board_vacuum_control(vacuum_pump(), 0);
}

void rig_hold(void) {
  vacuum_off();
  valve = VALVE_HOLD;
  board_vacuum_hold();
}

void rig_vent(void) {
  vacuum_off();
  valve = VALVE_VENT;
  board_vacuum_vent();
}

void rig_index(uint32_t tick) {
  turn_ticks = spindle_known ? tick - last_index : 0;
  spindle_known = true;
  last_index = tick;
  /* The step before may have ended ahead of the pulse. */
  speed_index(SECONDS(turn_ticks), SECONDS((int32_t)(last_step - tick)));
  if (turn_ticks > 0) from_rest = false;
}

static void take_trips(void) {
  uint8_t trips;
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { trips = safety_trips; }
  if (trips == 0) return;
  if (trips & TRIP_GUARD) latch(FAULT_GUARD);
  else if (trips & TRIP_STOP) latch(FAULT_STOP);
  else if (trips & TRIP_OVERSPEED) latch(FAULT_OVERSPEED);
  else {
    rig_stop();
    if (fault == FAULT_NONE) fault = FAULT_ALIVE;
  }
  /* What tripped meanwhile is taken in the next round. */
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { safety_trips &= (uint8_t)~trips; }
}

static void watch_spindle(uint32_t now) {
  float known_s = SECONDS(now - last_index);
  if (speed_turning()) {
    bool index_since = spindle_known && (int32_t)(last_index - drive_since) > 0;
    float since_s = index_since ? known_s : SECONDS(now - drive_since);
    float allowed_s = stall_s(speed_reached_rpm()) + (from_rest ? FROM_REST_S : 0) - EARLY_S;
    if (since_s > allowed_s) latch(FAULT_STALL);
  }
  if (!spindle_known) return;
  float rpm = speed_turning() ? speed_reached_rpm()
              : turn_ticks > 0 ? 60.0f * TICK_HZ / turn_ticks
                               : 0;
  /* Unknown speed: as long as a stall at the lowest one. */
  if (rpm == 0) rpm = MIN_RPM_TENTHS / 10.0f;
  if (known_s <= stall_s(rpm)) return;
  spindle_known = false;
  safety_index_known = false;
  turn_ticks = 0;
  turns_stood_still();
}

static void control(uint32_t now) {
  float dt_s = SECONDS(now - last_step);
  last_step = now;
  float share = speed_step(dt_s);
  if (share < 0) board_drive_off();
  else board_drive(share, is_ccw);
#if VACUUM_MAX_PA > 0
  float mv = board_sensor_mv();
  sensor_tick = now;
  sensor_failed = mv < SENSOR_LEAST_MV || mv > SENSOR_MOST_MV;
  if (sensor_failed) {
    latch(FAULT_SENSOR);
    return;
  }
  sensor_pa = (mv - SENSOR_ZERO_MV) * (VACUUM_MAX_PA / (SENSOR_FULL_MV - SENSOR_ZERO_MV));
  vacuum_step(dt_s, sensor_pa);
#endif
}

static void send_fault(void) {
  switch (fault) {
    case FAULT_NONE: line_text(PSTR("none")); break;
    case FAULT_ALIVE: line_text(PSTR("alive")); break;
    case FAULT_GUARD: line_text(PSTR("guard")); break;
    case FAULT_STOP: line_text(PSTR("stop-input")); break;
    case FAULT_OVERSPEED: line_text(PSTR("overspeed")); break;
    case FAULT_STALL: line_text(PSTR("stall")); break;
    case FAULT_SENSOR: line_text(PSTR("sensor")); break;
  }
}

static void report_state(uint32_t now) {
  uint8_t inputs = board_inputs();
  uint8_t tell = (uint8_t)(fault << 3 | inputs << 1 | has_token);
  if (tell == told && now - last_state < STATE_TICKS) return;
  if (board_send_room() < LINE_MAX) return;
  told = tell;
  last_state = now;
  line_begin(PSTR("state"));
  line_field(state_sequence++);
  line_field(now);
  line_comma();
  line_tenths(set_rpm_tenths);
  line_comma();
  line_tenths((uint32_t)(10 * now_rpm(now) + 0.5f));
  line_text(!has_turned ? PSTR(",none") : is_ccw ? PSTR(",ccw") : PSTR(",cw"));
  line_field(has_token);
  line_field(!(inputs & GUARD_OPEN));
  line_field((inputs & STOP_PRESSED) != 0);
  line_comma();
  send_fault();
  line_send();
}

static void report_vacuum(uint32_t now) {
#if VACUUM_MAX_PA > 0
  if (now - last_vacuum < VACUUM_TICKS || sensor_failed || board_send_room() < LINE_MAX) return;
  last_vacuum += VACUUM_TICKS;
  if (now - last_vacuum > VACUUM_TICKS) last_vacuum = now;
  line_begin(PSTR("vac"));
  line_field(vacuum_sequence++);
  line_field(sensor_tick);
  line_field(sensor_pa > 0 ? (uint32_t)(sensor_pa + 0.5f) : 0);
  line_field((uint32_t)(1000 * vacuum_pump() + 0.5f));
  line_text(valve == VALVE_VENT ? PSTR(",vent") : valve == VALVE_CONTROL ? PSTR(",control") : PSTR(",hold"));
  line_send();
#endif
}

void rig_boot(void) {
  rig_stop();
  last_step = last_state = last_vacuum = board_ticks();
}

void rig_step(void) {
  take_trips();
  uint32_t now = board_ticks();
  if (now - last_step >= STEP_TICKS) {
    watch_spindle(now);
    control(now);
  }
  safety_watching = has_token || rig_turning();
  report_state(now);
  report_vacuum(now);
}
