/* What a workshop sets for its own rig. Change, build, flash; hello (clause 3.1) tells the host. */
#ifndef BW_CONFIG_H
#define BW_CONFIG_H

#define BOARD_NAME "Bobweight firmware 1 mega2560"

/* Bits per second. 250000, 500000 and 1000000 are exact at 16 MHz. */
#ifndef BAUD
#define BAUD 500000UL
#endif

/* Pickup edges per turn; 1: an index pulse only, 2 to 72: an index track beside them. */
#ifndef EDGES
#define EDGES 1
#endif
#if EDGES < 1 || EDGES > 72
#error "EDGES must be 1 to 72: three turns of more do not fit into half the memory"
#endif

/* Tolerance of the crystal or resonator; many boards have a ceramic one of 5000. */
#define TICK_PPM 100UL

/* Rpm of the distributor shaft, in tenths. */
#define MIN_RPM_TENTHS 500UL
#define MAX_RPM_TENTHS 45000UL

/* Vacuum sensor: pascals below ambient at its upper voltage; 0: no sensor. */
#define VACUUM_MAX_PA 90000UL
/* Its voltages for 0 and VACUUM_MAX_PA, and beyond which it has failed. */
#define SENSOR_ZERO_MV 500.0f
#define SENSOR_FULL_MV 4500.0f
#define SENSOR_LEAST_MV 250.0f
#define SENSOR_MOST_MV 4750.0f

/* The drive as its nameplate has it: what its control expects beforehand. */
#define DRIVE_FULL_RPM 6300.0f
#define DRIVE_INERTIA_KG_M2 0.003f
#define DRIVE_DRAG_NM 0.15f
#define DRIVE_DRAG_NM_PER_RAD_S 1e-4f
#define DRIVE_NM_PER_RAD_S 0.075f

/* Pascals per second of the full pump on the closed line, where it gives out, and of the open bleed as a share of the vacuum. */
#define PUMP_PA_PER_S 121590.0f
#define PUMP_LIMIT_PA 85000.0f
#define BLEED_PER_S 6.48f

#endif
