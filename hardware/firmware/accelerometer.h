/*
 * The accelerometer: MPU-6050 and those that keep its registers ("MPU-6000/MPU-6050 Register Map and Descriptions",
 * RM-MPU-6000A-00, revision 4.2). Range ±4 g, whose counts are 1/8192 g, as the samples want them.
 */
#ifndef EBBLINE_ACCELEROMETER_H
#define EBBLINE_ACCELEROMETER_H

#include <stdbool.h>
#include <stdint.h>

/* After power on it needs 100 ms to its first transfer. */
void accelerometer_begin(bool just_powered);

/* Looks after it; to be called often. */
void accelerometer_poll(void);

/* The latest reading, x, y, z in 1/8192 g. False when it must not be used: silent, stuck, or not set up. */
bool accelerometer_latest(int16_t axes[3]);

#endif
