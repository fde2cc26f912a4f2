#include "config.h"

#include "cells.h"

#include "clock.h"
#include "converter.h"

static struct {
    wire_i24 count;
    /* Time of the edge that reported the latest reading. */
    uint32_t micros;
    /* It has not been sent yet. */
    bool fresh;
    bool saturated;
    /* Its reading was not plausible; it is not read until `rested`. */
    bool resting;
    uint32_t rested;
    /* When to restart its converter while it is silent. */
    uint32_t next_start, start_wait;
} cell[CELL_COUNT];

/* When a sample is sent by the clock, if the cells give none. */
static uint32_t due;
/* The cell whose edges set the time when no two agree. */
static uint8_t lead;

/* Converters give readings, but not at the same time: since when all is well, or when to restart all together. */
static bool out_of_step;
static uint32_t in_step_since, next_sync, sync_wait;

static bool is_past(uint32_t now, uint32_t moment) { return (int32_t)(now - moment) >= 0; }

/* 0x7fffff and 0x800000 (HX711 datasheet, "Output Data Rate and Format"). */
static bool at_end_of_range(const wire_i24 *count)
{
    return (count->byte[2] == 0x7f && count->byte[1] == 0xff && count->byte[0] == 0xff) ||
           (count->byte[2] == 0x80 && count->byte[1] == 0x00 && count->byte[0] == 0x00);
}

static bool is_alive(uint8_t i, uint32_t now) { return now - cell[i].micros < CELL_ALIVE; }

static uint32_t apart(uint8_t i, uint8_t j)
{
    uint32_t gap = cell[i].micros - cell[j].micros;
    return gap & 0x80000000UL ? -gap : gap;
}

/* The new readings made at the same time: of all three cells, else of the two closest, else the latest alone. */
static uint8_t together(uint8_t fresh, uint8_t latest)
{
    uint8_t best = 1 << latest;
    uint32_t closest = CELL_SKEW + 1;
    uint32_t widest = 0;
    uint8_t i, j;
    for (i = 0; i < CELL_COUNT; i++) {
        for (j = i + 1; j < CELL_COUNT; j++) {
            const uint8_t pair = (1 << i) | (1 << j);
            uint32_t gap;
            if ((fresh & pair) != pair)
                continue;
            gap = apart(i, j);
            if (gap > widest)
                widest = gap;
            if (gap < closest) {
                closest = gap;
                best = pair;
            }
        }
    }
    return fresh == ALL_CONVERTERS && widest <= CELL_SKEW ? ALL_CONVERTERS : best;
}

/* One cell alone gives a sample only if the others cannot; otherwise there would be several samples a period. */
static bool may_stand_alone(uint8_t i, uint32_t now)
{
    uint8_t others = 0;
    uint8_t j;
    for (j = 0; j < CELL_COUNT; j++)
        if (j != i && is_alive(j, now))
            others++;
    return others == 0 || (others == 1 && i == lead);
}

/* Restarts silent converters one by one, and converters out of step all together; less and less often if it does not help. */
static void look_after(uint32_t now, uint8_t group)
{
    uint8_t alive = 0;
    uint8_t i;
    for (i = 0; i < CELL_COUNT; i++) {
        if (is_alive(i, now)) {
            alive |= 1 << i;
            cell[i].start_wait = CELL_RETRY_FIRST;
            cell[i].next_start = now + CELL_RETRY_FIRST;
        } else if (is_past(now, cell[i].next_start)) {
            converter_start(1 << i);
            if (cell[i].start_wait < CELL_RETRY_LAST)
                cell[i].start_wait *= 2;
            cell[i].next_start = now + cell[i].start_wait;
        }
    }
    if (group == alive) {
        if (out_of_step)
            in_step_since = now;
        out_of_step = false;
        if (now - in_step_since > CELL_RECOVERED) {
            sync_wait = CELL_RETRY_FIRST;
            in_step_since = now;
        }
    } else if (!out_of_step) {
        out_of_step = true;
        next_sync = now + sync_wait;
    } else if (is_past(now, next_sync)) {
        converter_start(alive);
        if (sync_wait < CELL_RETRY_LAST)
            sync_wait *= 2;
        next_sync = now + sync_wait;
    }
}

static void complete(struct cells_reading *reading, uint8_t group, uint32_t micros, uint32_t now)
{
    uint8_t i;
    reading->micros = micros;
    reading->faults = 0;
    for (i = 0; i < CELL_COUNT; i++) {
        reading->counts[i] = cell[i].count;
        if (!(group & (1 << i)) || cell[i].saturated)
            reading->faults |= 1 << i;
        cell[i].fresh = false;
    }
    if (group && !(group & (1 << lead)))
        lead = group & 1 ? 0 : group & 2 ? 1 : 2;
    look_after(now, group);
}

static void read_if_ready(uint8_t i, uint32_t now)
{
    uint32_t micros;
    if (cell[i].resting && is_past(now, cell[i].rested))
        cell[i].resting = false;
    if (cell[i].resting || !converter_ready(i, &micros))
        return;
    if (converter_read(i, &cell[i].count)) {
        cell[i].micros = micros;
        cell[i].fresh = true;
        cell[i].saturated = at_end_of_range(&cell[i].count);
    } else {
        cell[i].resting = true;
        cell[i].rested = now + CELL_PERIOD;
    }
}

void cells_begin(void)
{
    const uint32_t now = clock_micros();
    uint8_t i;
    for (i = 0; i < CELL_COUNT; i++) {
        cell[i].start_wait = CELL_RETRY_FIRST;
        cell[i].next_start = now + CELL_RETRY_FIRST;
        cell[i].micros = now - CELL_ALIVE;
    }
    in_step_since = now;
    sync_wait = CELL_RETRY_FIRST;
    due = now + CELL_FIRST;
    converter_begin();
}

/* The cell of `mask` (not empty) with the latest reading. */
static uint8_t last_of(uint8_t mask)
{
    uint8_t last = CELL_COUNT;
    uint8_t i;
    for (i = 0; i < CELL_COUNT; i++)
        if ((mask & (1 << i)) && (last == CELL_COUNT || is_past(cell[i].micros, cell[last].micros)))
            last = i;
    return last;
}

bool cells_poll(struct cells_reading *reading)
{
    uint32_t now = clock_micros();
    uint32_t micros = 0;
    uint8_t fresh = 0;
    uint8_t group;
    uint8_t i;
    for (i = 0; i < CELL_COUNT; i++) {
        read_if_ready(i, now);
        if (cell[i].fresh)
            fresh |= 1 << i;
    }
    now = clock_micros();
    if (fresh) {
        const uint8_t latest = last_of(fresh);
        micros = cell[latest].micros;
        if (fresh == ALL_CONVERTERS || now - micros >= CELL_WAIT) {
            group = together(fresh, latest);
            if (group != 1 << latest || may_stand_alone(latest, now)) {
                micros = cell[last_of(group)].micros;
                complete(reading, group, micros, now);
                due = micros + CELL_DUE_LATE;
                return true;
            }
        }
    }
    if (is_past(now, due)) {
        /* None agree: the latest alone, or none. */
        group = fresh ? 1 << last_of(fresh) : 0;
        complete(reading, group, fresh ? micros : now, now);
        due += CELL_PERIOD;
        return true;
    }
    return false;
}
