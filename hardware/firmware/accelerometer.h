/*
 * The accelerometer with its gyroscope: MPU-6050 ("MPU-6000/MPU-6050 Register Map and Descriptions", RM-MPU-6000A-00,
 * revision 4.2). Ranges ±4 g and ±500 °/s, so counts are 1/8192 g and 1/65.5 °/s, the units of the messages.
 * A chip with the same registers but another WHO_AM_I is used as an accelerometer only.
 */
#ifndef EBBLINE_ACCELEROMETER_H
#define EBBLINE_ACCELEROMETER_H

#include <stdbool.h>
#include <stdint.h>

/* After power on it needs 100 ms to its first transfer. */
void accelerometer_begin(bool just_powered);

/* Starts and takes readings; to be called often. */
void accelerometer_poll(void);

/* The latest reading along the sleeve's x, y, z in 1/8192 g. False when it must not be used: silent, stuck, or not set up. */
bool accelerometer_latest(int16_t axes[3]);

/*
 * Angular velocity about the sleeve's x, y, z in 1/65.5 °/s, from the same reading. False when it must not be used: as above, or
 * without a gyroscope, or just after switching on.
 */
bool gyroscope_latest(int16_t axes[3]);

#endif
