/* Everything that can be tuned. Times are microseconds unless the name says otherwise. */
#ifndef EBBLINE_CONFIG_H
#define EBBLINE_CONFIG_H

#include "pins.h"

/* The build may set another clock (one crystal of 11.0592 MHz for chip and converters). All times are computed from it. */
#ifndef F_CPU
#define F_CPU CHIP_CLOCK_HZ
#endif

#define FIRMWARE_NAME "ebbline-sleeve"
#define FIRMWARE_MAJOR 0
#define FIRMWARE_MINOR 2
#define FIRMWARE_PATCH 0

/* Firmata protocol 2.5. */
#define FIRMATA_MAJOR 2
#define FIRMATA_MINOR 5

/* Cells. One period at 80 readings a second is 12.5 ms; the shared clock keeps the three within 1 ms of each other. */
#define CELL_PERIOD 12500UL
#define CELL_SKEW 1000UL
/* How long a reading waits for the others: their skew, and time for the interrupt and for reading. */
#define CELL_WAIT 1300UL
/* A converter without a reading for this long (1.6 periods) is silent. */
#define CELL_ALIVE 20000UL
/* Without a sample for this long (no two cells agree) one is sent by the clock, with its silent cells flagged. */
#define CELL_DUE_LATE 14500UL
/* The first reading after all were restarted takes a little more than four periods (HX711 datasheet, "Settling time"). */
#define CELL_FIRST 100000UL
/* A converter is restarted by holding its clock high for more than 60 µs (HX711 datasheet, "Reset and Power-Down"). */
#define CELL_POWER_DOWN_US 80
/*
 * Silent converters are restarted one by one, converters out of step all together, which costs the others four
 * periods; less and less often, down to once in this time.
 */
#define CELL_RETRY_FIRST 250000UL
#define CELL_RETRY_LAST 8000000UL
/* A converter in step for this long has recovered. */
#define CELL_RECOVERED 10000000UL

/* Accelerometer and gyroscope, 200 readings a second. */
#define ACCEL_SILENT 12500UL
#define ACCEL_STUCK_READINGS 40
#define ACCEL_TRANSFER_LIMIT 2000UL
#define ACCEL_START_WAIT 100000UL
#define ACCEL_RETRY 100000UL
/* A gyroscope that was just switched on needs 30 ms to settle ("Gyroscope Start-up Time", product specification, from memory). */
#define GYRO_START_READINGS 10

/* After this long without a sign of the host the sleeve ends its guidance (sleeve contract, section 2, HEARTBEAT). */
#define HEARTBEAT_LIMIT 2000000UL

/* "No guidance" on the light: a dim white blink every two seconds, unlike any cue. */
#define QUIET_DUTY 24
#define QUIET_PERIOD 2000000UL
#define QUIET_ON 250000UL

/* A cue of the sleeve's own stays this long after the host takes over: the host waits 5 s before it repeats a cue. */
#define OWN_GOES_ON 6000000UL

/* A small motor keeps turning after its current stops, and the cells' own filter takes four periods (HX711 datasheet, "Settling time"). */
#define MOTOR_REST 150000UL

#define BUTTON_DEBOUNCE 20000UL

#define SUPPLY_PERIOD 10000UL
/* Of the cell in use half an hour before its end (the host's battery gauge); told again only after it was charged by so much; under the least none is connected. */
#define CELL_ENDING_MILLIVOLTS 3683
#define CELL_CHARGED_MILLIVOLTS 100
#define CELL_LEAST_MILLIVOLTS 2500
/* The chip's own reference is 1.1 V, 1.0 to 1.2 V from chip to chip; the measured value is kept in its EEPROM. */
#define BANDGAP_MILLIVOLTS 1100
#define BANDGAP_LEAST_MILLIVOLTS 1000
#define BANDGAP_MOST_MILLIVOLTS 1200

/* EEPROM: values of each sleeve. A blank byte is 0xff. */
#define EEPROM_SLEEVE_NUMBER 0 /* u32 */
#define EEPROM_BANDGAP 4       /* u16, mV */
#define EEPROM_GRIP_MOTOR 6    /* u8, 1: a motor in the grip, in place of the buzzer */
/* Guiding alone: whether it is on, two places for calibration and pace, the latest feeds, two places for the owner. */
#define EEPROM_ALONE 12        /* u8, ALONE_ON */
#define EEPROM_BLOCKS 16       /* two, ALONE_PLACE_BYTES each */
#define EEPROM_FEEDS 464       /* FEED_COUNT, FEED_BYTES each */
#define EEPROM_OWNERS 1004     /* two: u32 key, u16 checksum of it */

#endif
