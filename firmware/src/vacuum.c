#include "vacuum.h"

#include <stdbool.h>

#include "board.h"
#include "config.h"

/* The error falls with this time constant once it is small enough for pump and bleed. */
#define APPROACH_S 0.15f
#define APPROACH_MOST_PA_PER_S 60000.0f
/* Poles of the estimator of vacuum and leak. */
#define ESTIMATOR_PER_S 4.0f

static bool on;
static float target;
static float estimate;
static float leak;
static float pump;
static float bleed;

static float limited(float value, float least, float most) {
  return value < least ? least : value > most ? most : value;
}

static float full_pump(float vacuum_pa) {
  return PUMP_PA_PER_S * limited(1 - vacuum_pa / PUMP_LIMIT_PA, 0, 1);
}

/* Pascals per second that pump and bleed bring as they are set. */
static float flow(float vacuum_pa) {
  return pump * full_pump(vacuum_pa) - bleed * BLEED_PER_S * vacuum_pa;
}

void vacuum_go_to(float target_pa, float reading_pa) {
  if (!on) {
    estimate = reading_pa;
    leak = 0;
  }
  on = true;
  target = target_pa;
}

void vacuum_off(void) {
  on = false;
  pump = bleed = 0;
}

void vacuum_step(float dt_s, float reading_pa) {
  if (!on) return;
  float middle = estimate + dt_s / 2 * flow(estimate);
  float surprise = reading_pa - estimate;
  estimate += dt_s * (flow(middle) - leak + 2 * ESTIMATOR_PER_S * surprise);
  leak -= dt_s * ESTIMATOR_PER_S * ESTIMATOR_PER_S * surprise;
  float wanted = (target - estimate) / APPROACH_S;
  float needed = limited(wanted, -APPROACH_MOST_PA_PER_S, APPROACH_MOST_PA_PER_S) + leak;
  float pump_most = full_pump(estimate);
  float bleed_most = BLEED_PER_S * estimate;
  pump = needed > 0 ? limited(needed / (pump_most < 1 ? 1 : pump_most), 0, 1) : 0;
  bleed = needed < 0 ? limited(-needed / (bleed_most < 1 ? 1 : bleed_most), 0, 1) : 0;
  board_vacuum_control(pump, bleed);
}

float vacuum_pump(void) { return pump; }
