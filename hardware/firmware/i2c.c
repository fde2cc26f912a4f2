#include "config.h"

#include "i2c.h"

#include "wake.h"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <util/atomic.h>
#include <util/delay.h>
#include <util/twi.h>

/* SCL frequency = clock / (16 + 2·TWBR), prescaler 1 (ATmega328P datasheet, "Bit Rate Generator Unit"). */
/* Rounded up, so that it is never too fast. */
#define TWBR_VALUE (((F_CPU + I2C_HZ - 1) / I2C_HZ - 16 + 1) / 2)

#define SDA _BV(PIN_ACCEL_SDA_BIT)
#define SCL _BV(PIN_ACCEL_SCL_BIT)

static volatile enum i2c_state state;
static volatile uint8_t data[I2C_BYTES_MOST];
static uint8_t address, first_register, total, done;
static bool reading, register_sent;

static void bus_on(void)
{
    TWBR = TWBR_VALUE;
    TWSR = 0;
    TWCR = _BV(TWEN);
}

void i2c_begin(void) { bus_on(); }

static void go_on(uint8_t more) { TWCR = _BV(TWINT) | _BV(TWEN) | _BV(TWIE) | more; }

/* The stop is sent by hardware; the interrupt stays off, since some emulated chips request it after a stop. */
static void stop(enum i2c_state outcome)
{
    TWCR = _BV(TWINT) | _BV(TWEN) | _BV(TWSTO);
    state = outcome;
    wake_for(WAKE_ACCELEROMETER);
}

ISR(TWI_vect)
{
    switch (TW_STATUS) {
    case TW_START:
    case TW_REP_START:
        TWDR = (address << 1) | (reading && register_sent ? TW_READ : TW_WRITE);
        go_on(0);
        break;
    case TW_MT_SLA_ACK:
    case TW_MT_DATA_ACK:
        /* The next byte is chosen by what was sent, not by the status: one emulator reports data after the address, too. */
        if (!register_sent) {
            register_sent = true;
            TWDR = first_register;
            go_on(0);
        } else if (reading) {
            go_on(_BV(TWSTA));
        } else if (done < total) {
            TWDR = data[done++];
            go_on(0);
        } else {
            stop(I2C_DONE);
        }
        break;
    case TW_MR_SLA_ACK:
        go_on(total > 1 ? _BV(TWEA) : 0);
        break;
    case TW_MR_DATA_ACK:
        data[done++] = TWDR;
        go_on(done + 1 < total ? _BV(TWEA) : 0);
        break;
    case TW_MR_DATA_NACK:
        data[done++] = TWDR;
        stop(I2C_DONE);
        break;
    default: /* no answer, arbitration lost, bus error */
        stop(I2C_FAILED);
        break;
    }
}

static bool begin(uint8_t to, uint8_t reg, uint8_t count, bool read)
{
    bool begun = false;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        if (state == I2C_IDLE && !(TWCR & _BV(TWSTO))) {
            address = to;
            first_register = reg;
            total = count;
            done = 0;
            reading = read;
            register_sent = false;
            state = I2C_BUSY;
            go_on(_BV(TWSTA));
            begun = true;
        }
    }
    return begun;
}

bool i2c_write(uint8_t to, uint8_t reg, uint8_t byte)
{
    if (state == I2C_IDLE)
        data[0] = byte;
    return begin(to, reg, 1, false);
}

bool i2c_read(uint8_t to, uint8_t reg, uint8_t count) { return begin(to, reg, count, true); }

enum i2c_state i2c_poll(uint8_t *bytes, uint8_t count)
{
    const enum i2c_state seen = state;
    uint8_t i;
    if (seen == I2C_DONE)
        for (i = 0; i < count; i++)
            bytes[i] = data[i];
    if (seen == I2C_DONE || seen == I2C_FAILED)
        state = I2C_IDLE;
    return seen;
}

/* The lines are open-drain: driven low, or released. */
static void low(uint8_t line) { DDRC |= line; }
static void let_go(uint8_t line) { DDRC &= ~line; }

void i2c_recover(void)
{
    uint8_t pulses;
    TWCR = 0;
    state = I2C_IDLE;
    /* Nine pulses at most make a device that was interrupted within a byte release the data line. */
    for (pulses = 0; pulses < 9 && !(PINC & SDA); pulses++) {
        low(SCL);
        _delay_us(5);
        let_go(SCL);
        _delay_us(5);
    }
    low(SDA);
    _delay_us(5);
    let_go(SDA);
    _delay_us(5);
    bus_on();
}
