/* Vacuum control: comes up to a target from either side without passing it. */
#ifndef BW_VACUUM_H
#define BW_VACUUM_H

void vacuum_go_to(float target_pa, float reading_pa);
void vacuum_off(void);
/* Sets pump and bleed by a reading so long after the one before. */
void vacuum_step(float dt_s, float reading_pa);
/* The pump's share of full as it is set. */
float vacuum_pump(void);

#endif
