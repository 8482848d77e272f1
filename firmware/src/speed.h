/* Speed control from the index: a ramped target, the drive's known behaviour ahead, and a PI part. */
#ifndef BW_SPEED_H
#define BW_SPEED_H

#include <stdbool.h>
#include <stdint.h>

/* True while the drive is commanded to turn. */
bool speed_turning(void);
/* Target that the ramp has reached so far. */
float speed_reached_rpm(void);
void speed_go_to(float goal_rpm, float ramp_rpm_per_s, float now_rpm);
void speed_off(void);
/* Moves the ramp on; gives the drive's share of full, negative for off. */
float speed_step(float dt_s);
/* An index pulse so long before the end of the last step, and so long after the one before (0: unknown). */
void speed_index(float turn_s, float ago_s);

#endif
