/* The sleeve: reads its cells, sends samples to the host, and shows what the host sets. All tasks run in turn; none waits. */
#include "config.h"

#include "accelerometer.h"
#include "alone.h"
#include "button.h"
#include "cells.h"
#include "clock.h"
#include "frames.h"
#include "guidance.h"
#include "host.h"
#include "line.h"
#include "messages.h"
#include "reset.h"
#include "sound.h"
#include "supply.h"
#include "wake.h"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/power.h>
#include <avr/sleep.h>
#include <avr/wdt.h>

static uint16_t sequence;
/* Flags for the next sample: kept until one was sent. */
static uint8_t owed = SAMPLE_FIRST_AFTER_RESET;

static void send_motion(uint16_t of_sample)
{
    motion_body motion;
    int16_t axes[3];
    uint8_t i;
    if (!gyroscope_latest(axes))
        return;
    motion.sequence = of_sample;
    for (i = 0; i < 3; i++)
        motion.gyroscope[i] = axes[i];
    /* Left out if there is no room: the sample is usable without it. */
    frame_send(MOTION_ID, &motion, sizeof motion, 0);
}

static void send_sample(const struct cells_reading *reading)
{
    sample_body sample;
    uint8_t i;
    sample.sequence = sequence++;
    sample.time_micros = reading->micros;
    for (i = 0; i < CELL_COUNT; i++)
        sample.cells[i] = reading->counts[i];
    sample.flags = owed | reading->faults;
    if (sound_shakes())
        sample.flags |= SAMPLE_AXIAL_CELL_FAULT | SAMPLE_FRONT_CELL_FAULT | SAMPLE_REAR_CELL_FAULT;
    {
        int16_t axes[3];
        if (!accelerometer_latest(axes))
            sample.flags |= SAMPLE_ACCELEROMETER_FAULT;
        for (i = 0; i < 3; i++)
            sample.accelerometer[i] = axes[i];
    }
    if (button_is_down())
        sample.flags |= SAMPLE_BUTTON_DOWN;
    if (supply_is_low())
        sample.flags |= SAMPLE_SUPPLY_LOW;
    if (frame_send(SAMPLE_ID, &sample, sizeof sample, 0)) {
        owed = 0;
        send_motion(sample.sequence);
    } else {
        owed |= SAMPLE_SAMPLES_LOST;
    }
}

static void begin(void)
{
    PORTB = PORT_B_HIGH;
    DDRB = PORT_B_OUT;
    PORTC = PORT_C_HIGH;
    DDRC = PORT_C_OUT;
    PORTD = PORT_D_HIGH;
    DDRD = PORT_D_OUT;
    power_spi_disable();
    ACSR = _BV(ACD);
    clock_begin();
    line_begin();
    supply_begin();
    accelerometer_begin(reset_cause() == RESET_POWER || reset_cause() == RESET_BROWN_OUT);
    cells_begin();
    guidance_begin();
    host_begin();
    wdt_enable(WDTO_250MS);
    /* Idle mode: the core stops until the next interrupt, at the latest the clock's after 1 ms; timers and serial line run on. */
    set_sleep_mode(SLEEP_MODE_IDLE);
    sleep_enable();
    sei();
    /* Before interrupts are on: its checksums take longer than the clock's interrupt may be delayed. */
    alone_begin();
}

/* Sleeps until there is something to do, and returns what. */
static uint8_t wait(void)
{
    uint8_t reasons;
    for (;;) {
        cli();
        reasons = wake_reasons();
        if (reasons) {
            wake_clear();
            sei();
            return reasons;
        }
        /* No interrupt can come between these two, so none is missed while asleep. */
        sei();
        sleep_cpu();
    }
}

int main(void)
{
    struct cells_reading reading;
    begin();
    for (;;) {
        const uint8_t reasons = wait();
        if (reasons & (WAKE_CLOCK | WAKE_CELLS))
            if (cells_poll(&reading)) {
                if (host_wants_samples())
                    send_sample(&reading);
                alone_reading(&reading);
            }
        if (reasons & (WAKE_CLOCK | WAKE_HOST))
            host_poll();
        if (reasons & (WAKE_CLOCK | WAKE_ACCELEROMETER))
            accelerometer_poll();
        if (reasons & WAKE_CLOCK) {
            wdt_reset();
            guidance_poll();
            alone_poll();
            supply_poll();
            if (button_poll())
                host_button_changed();
        }
    }
}
