/*
 * Transfers with the only device on the I²C bus, driven by interrupts; nothing here waits for the bus.
 * A transfer writes bytes from a register on, or writes the register's number and reads bytes from there.
 */
#ifndef EBBLINE_I2C_H
#define EBBLINE_I2C_H

#include <stdbool.h>
#include <stdint.h>

#define I2C_BYTES_MOST 14

enum i2c_state { I2C_IDLE, I2C_BUSY, I2C_DONE, I2C_FAILED };

void i2c_begin(void);

/* Both start a transfer and return at once; false if one is running or the last stop was not sent yet. */
bool i2c_write(uint8_t address, uint8_t first_register, uint8_t byte);
bool i2c_read(uint8_t address, uint8_t first_register, uint8_t count);

/* DONE and FAILED are returned once; then the bus is IDLE again. */
enum i2c_state i2c_poll(uint8_t *bytes, uint8_t count);

/* Aborts a running transfer; frees the bus from a device that holds the data line (UM10204, "Bus clear"). */
void i2c_recover(void);

#endif
