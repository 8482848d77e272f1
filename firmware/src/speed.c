#include "speed.h"

#include <math.h>

#include "board.h"
#include "config.h"

#define RAD_S_PER_RPM 0.104719755f
/* Share of one long turn's speed error that the integral takes up; short turns count less. */
#define INTEGRAL_SHARE 0.5f
#define PROPORTIONAL_SHARE 0.2f
#define SETTLING_S 0.25f
/* Errors that no step of the drive makes smaller are left alone: a steady speed matters more. */
#define NEAR_ENOUGH_RPM (0.6f * DRIVE_FULL_RPM / DRIVE_STEPS)

static bool on;
static float goal;
static float ramp;
static float reached;
static float integral;
static float proportional;
static float expected_turns;
static bool index_seen;

bool speed_turning(void) { return on; }

float speed_reached_rpm(void) { return reached; }

void speed_off(void) {
  on = false;
  goal = reached = integral = proportional = 0;
  index_seen = false;
}

void speed_go_to(float goal_rpm, float ramp_rpm_per_s, float now_rpm) {
  if (!on) {
    speed_off();
    reached = now_rpm;
    on = goal_rpm > 0 || now_rpm > 0;
  }
  goal = goal_rpm;
  ramp = ramp_rpm_per_s;
}

float speed_step(float dt_s) {
  if (!on) return -1;
  float before = reached;
  float change = ramp * dt_s;
  if (fabsf(goal - before) <= change) reached = goal;
  else reached += goal > before ? change : -change;
  if (reached == 0 && goal == 0) {
    speed_off();
    return -1;
  }
  float middle = (before + reached) / 2;
  expected_turns += middle / 60 * dt_s;
  float acceleration = (reached - before) / dt_s * RAD_S_PER_RPM;
  float torque = DRIVE_INERTIA_KG_M2 * acceleration + DRIVE_DRAG_NM +
                 DRIVE_DRAG_NM_PER_RAD_S * middle * RAD_S_PER_RPM;
  float slip = torque / DRIVE_NM_PER_RAD_S / RAD_S_PER_RPM;
  float share = (middle + slip + proportional + integral) / DRIVE_FULL_RPM;
  return share < 0 ? 0 : share > 1 ? 1 : share;
}

void speed_index(float turn_s, float ago_s) {
  /* One turn less the turns that the target made meanwhile: exact on ramps too. */
  float since = reached / 60 * ago_s;
  float expected = expected_turns - since;
  expected_turns = since;
  bool known = index_seen && turn_s > 0;
  index_seen = true;
  if (!known || !on) return;
  float error = (expected - 1) / turn_s * 60;
  if (fabsf(error) < NEAR_ENOUGH_RPM) return;
  float share = 1 - expf(-turn_s / SETTLING_S);
  integral += INTEGRAL_SHARE * share * error;
  proportional = PROPORTIONAL_SHARE * share * error;
}
