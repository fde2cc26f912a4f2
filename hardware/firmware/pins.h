/* Generated from hardware/pins.ts by "npm run gen"; do not edit. */
#ifndef EBBLINE_PINS_H
#define EBBLINE_PINS_H

/* Per pin: number for Firmata hosts, bit in its port. */
#define PIN_LINE_RX 0 /* port D, bit 0: serial line from the host */
#define PIN_LINE_RX_BIT 0
#define PIN_LINE_TX 1 /* port D, bit 1: serial line to the host */
#define PIN_LINE_TX_BIT 1
#define PIN_ACCEL_INT 2 /* port D, bit 2: accelerometer and gyroscope: reading ready */
#define PIN_ACCEL_INT_BIT 2
#define PIN_LIGHT_RED 3 /* port D, bit 3: light, red */
#define PIN_LIGHT_RED_BIT 3
#define PIN_BUTTON 4 /* port D, bit 4: button */
#define PIN_BUTTON_BIT 4
#define PIN_LIGHT_GREEN 5 /* port D, bit 5: light, green */
#define PIN_LIGHT_GREEN_BIT 5
#define PIN_LIGHT_BLUE 6 /* port D, bit 6: light, blue */
#define PIN_LIGHT_BLUE_BIT 6
#define PIN_GRIP_MOTOR 8 /* port B, bit 0: vibration motor in the grip, in place of the buzzer (option) */
#define PIN_GRIP_MOTOR_BIT 0
#define PIN_BUZZER 9 /* port B, bit 1: buzzer (passive) */
#define PIN_BUZZER_BIT 1
#define PIN_AXIAL_SCK 10 /* port B, bit 2: axial cell: clock of its converter */
#define PIN_AXIAL_SCK_BIT 2
#define PIN_FRONT_SCK 11 /* port B, bit 3: front cell: clock of its converter */
#define PIN_FRONT_SCK_BIT 3
#define PIN_REAR_SCK 12 /* port B, bit 4: rear cell: clock of its converter */
#define PIN_REAR_SCK_BIT 4
#define PIN_AXIAL_DOUT 14 /* port C, bit 0: axial cell: data of its converter */
#define PIN_AXIAL_DOUT_BIT 0
#define PIN_FRONT_DOUT 15 /* port C, bit 1: front cell: data of its converter */
#define PIN_FRONT_DOUT_BIT 1
#define PIN_REAR_DOUT 16 /* port C, bit 2: rear cell: data of its converter */
#define PIN_REAR_DOUT_BIT 2
#define PIN_BATTERY_CELL 17 /* port C, bit 3: the battery’s cell */
#define PIN_BATTERY_CELL_BIT 3
#define PIN_ACCEL_SDA 18 /* port C, bit 4: accelerometer and gyroscope: I²C data */
#define PIN_ACCEL_SDA_BIT 4
#define PIN_ACCEL_SCL 19 /* port C, bit 5: accelerometer and gyroscope: I²C clock */
#define PIN_ACCEL_SCL_BIT 5

/* Pins of the cells in the order of a sample: masks in port C (data) and port B (clock). */
#define CELL_COUNT 3
#define CELL_DOUT_MASKS { 0x01, 0x02, 0x04 }
#define CELL_SCK_MASKS { 0x04, 0x08, 0x10 }

/* Ports at the start, bit by bit: out, and high or pulled up. Free pins are pulled up, so that none floats. */
#define PORT_B_OUT 0x1f
#define PORT_B_HIGH 0x20
#define PORT_C_OUT 0x00
#define PORT_C_HIGH 0x07
#define PORT_D_OUT 0x6a
#define PORT_D_HIGH 0x93

/* Modes that a Firmata host may put each pin in, as in the capability answer: mode and bits, 0x7f after each pin. */
#define PIN_COUNT 20
#define PIN_CAPABILITIES { 0x7f, 0x7f, 0x7f, 0x01, 0x01, 0x03, 0x08, 0x7f, 0x00, 0x01, 0x0b, 0x01, 0x7f, 0x01, 0x01, 0x03, 0x08, 0x7f, 0x01, 0x01, 0x03, 0x08, 0x7f, 0x7f, 0x7f, 0x7f, 0x7f, 0x7f, 0x7f, 0x7f, 0x7f, 0x7f, 0x7f, 0x7f, 0x7f, 0x7f }
#define PIN_CAPABILITIES_BYTES 36

#define CHIP_CLOCK_HZ 16000000UL
#define LINE_BAUD 115200UL
#define I2C_HZ 400000UL
#define ACCEL_ADDRESS 0x68
/* Which axis of the chip (0 x, 1 y, 2 z) lies along the sleeve's x, y, z. */
#define MOTION_AXES {2, 0, 1}
#define SUPPLY_LOW_MILLIVOLTS 4600
#define SUPPLY_MARGIN_MILLIVOLTS 50

#endif
