/*
 * The accelerometer with its gyroscope: MPU-6050 ("MPU-6000/MPU-6050 Register Map and Descriptions", RM-MPU-6000A-00,
 * revision 4.2). Ranges ±4 g and ±500 °/s, whose counts are 1/8192 g and 1/65.5 °/s, as the messages want them.
 * A chip that keeps its registers and says that it is another one is read as an accelerometer alone.
 */
#ifndef EBBLINE_ACCELEROMETER_H
#define EBBLINE_ACCELEROMETER_H

#include <stdbool.h>
#include <stdint.h>

/* After power on it needs 100 ms to its first transfer. */
void accelerometer_begin(bool just_powered);

/* Looks after it; to be called often. */
void accelerometer_poll(void);

/* The latest reading along the sleeve's x, y, z in 1/8192 g. False when it must not be used: silent, stuck, or not set up. */
bool accelerometer_latest(int16_t axes[3]);

/*
 * Angular velocity about the sleeve's x, y, z in 1/65.5 °/s, from the same reading. False when it must not be used: as above, or
 * there is no gyroscope, or it was just switched on.
 */
bool gyroscope_latest(int16_t axes[3]);

#endif
