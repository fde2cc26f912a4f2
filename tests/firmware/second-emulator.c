/*
 * The sleeve's program in simavr, an emulator that shares no code with the other one. Three converters of fixed counts
 * are on its pins, and on its I²C bus an accelerometer with gyroscope (seconds with a minus: nobody); a host says a few
 * things at set times. What the chip sends goes to standard output as hex, then what its pins did.
 *
 * By the environment: CHIP_HZ; CELL_MILLIVOLTS at A3; EEPROM, a file of what it holds; SAMPLES, a file of what the
 * sensors feel, 80 lines a second: three counts and the sleeve's acceleration along x, y, z.
 *
 * Of the pins: "look SECONDS red green blue" at each change of the light (a level of 255
 * takes the pin from its timer and is not seen), the last levels, the buzzer's pitch. Of the
 * processor: the longest time that it was awake, s, and the lowest address of its stack.
 *
 *   second-emulator sleeve.hex seconds [at-seconds:hex-bytes …]
 */
#include <simavr/avr_adc.h>
#include <simavr/avr_eeprom.h>
#include <simavr/avr_ioport.h>
#include <simavr/avr_timer.h>
#include <simavr/avr_twi.h>
#include <simavr/avr_uart.h>
#include <simavr/sim_avr.h>
#include <simavr/sim_cycle_timers.h>
#include <simavr/sim_hex.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Clock of the chip; another by the environment. */
static uint32_t HZ = 16000000;
#define PERIOD (HZ / 80)
#define CELLS 3

static const int32_t counts[CELLS] = {123456, -654321, 4194303};

#define MOST_SAMPLES (80 * 300)
static int32_t felt[MOST_SAMPLES][2 * CELLS];
static int felt_count;

/* What the sensors feel now. */
static const int32_t *felt_at(avr_cycle_count_t now)
{
    const int at = now / PERIOD;
    return felt[at < felt_count ? at : felt_count - 1];
}

static void read_samples(const char *path)
{
    FILE *file = fopen(path, "r");
    while (file && felt_count < MOST_SAMPLES) {
        int32_t *one = felt[felt_count];
        if (fscanf(file, "%d %d %d %d %d %d", one, one + 1, one + 2, one + 3, one + 4, one + 5) != 2 * CELLS)
            break;
        felt_count++;
    }
    if (file)
        fclose(file);
}

struct converter {
    avr_t *avr;
    avr_irq_t *data;
    uint32_t word;
    int pulses;
    int ready;
    avr_cycle_count_t rose;
} converter[CELLS];

static avr_cycle_count_t convert(avr_t *avr, avr_cycle_count_t when, void *param)
{
    struct converter *c = param;
    (void)avr;
    if (!c->ready || c->pulses == 0 || c->pulses >= 25) {
        if (felt_count > 0)
            c->word = felt_at(when)[c - converter] & 0xffffff;
        c->pulses = 0;
        c->ready = 1;
        avr_raise_irq(c->data, 1);
        avr_raise_irq(c->data, 0);
    }
    return when + PERIOD;
}

static void on_clock(avr_irq_t *irq, uint32_t value, void *param)
{
    struct converter *c = param;
    (void)irq;
    if (value) {
        c->rose = c->avr->cycle;
        if (!c->ready)
            return;
        c->pulses++;
        avr_raise_irq(c->data, c->pulses > 24 ? 1 : (c->word >> (24 - c->pulses)) & 1);
    } else if (c->avr->cycle - c->rose > HZ / 1000000 * 60) {
        c->ready = 0;
        c->pulses = 0;
        avr_raise_irq(c->data, 1);
        avr_cycle_timer_register(c->avr, 4 * PERIOD, convert, c);
    }
}

static void on_byte(avr_irq_t *irq, uint32_t value, void *param)
{
    (void)irq;
    (void)param;
    printf("%02x", value & 0xff);
}

/* As far as the sleeve uses it: registers, and a pulse at each reading. The last digit of each axis is never still. */
static struct {
    uint8_t registers[128];
    uint8_t pointer;
    int selected, pointer_set;
    int readings;
    avr_irq_t *to_chip, *interrupt;
} imu;

#define IMU_ADDRESS 0x68
#define IMU_AWAKE (!(imu.registers[0x6b] & 0x40))
/*
 * Upright and turning, in the chip's own axes: its z is the sleeve's x, its x the sleeve's y, its y the sleeve's z. So the
 * sleeve feels (100, -200, 8192) and turns by (655, -5895, -1) about its x, y, z.
 */
static const int16_t imu_axes[7] = {-200, 8192, 100, 0, -5895, -1, 655};

static void imu_power_on(void)
{
    memset(imu.registers, 0, sizeof imu.registers);
    imu.registers[0x6b] = 0x40;
    imu.registers[0x75] = 0x68;
}

static void imu_take(uint8_t byte)
{
    if (!imu.pointer_set) {
        imu.pointer_set = 1;
        imu.pointer = byte & 0x7f;
    } else if (imu.pointer == 0x6b && byte & 0x80) {
        imu_power_on();
    } else {
        imu.registers[imu.pointer++ & 0x7f] = byte;
    }
}

static void on_twi(avr_irq_t *irq, uint32_t value, void *param)
{
    avr_twi_msg_irq_t message;
    (void)irq;
    (void)param;
    message.u.v = value;
    if (message.u.twi.msg & TWI_COND_STOP)
        imu.selected = 0;
    if (message.u.twi.msg & TWI_COND_START) {
        imu.selected = message.u.twi.addr >> 1 == IMU_ADDRESS;
        if (imu.selected) {
            if (!(message.u.twi.addr & 1))
                imu.pointer_set = 0;
            avr_raise_irq(imu.to_chip, avr_twi_irq_msg(TWI_COND_ACK, message.u.twi.addr, 1));
        }
    }
    if (!imu.selected)
        return;
    if (message.u.twi.msg & TWI_COND_WRITE) {
        avr_raise_irq(imu.to_chip, avr_twi_irq_msg(TWI_COND_ACK, message.u.twi.addr, 1));
        imu_take(message.u.twi.data);
    }
    if (message.u.twi.msg & TWI_COND_READ)
        avr_raise_irq(imu.to_chip,
                      avr_twi_irq_msg(TWI_COND_READ, message.u.twi.addr, imu.registers[imu.pointer++ & 0x7f]));
}

static avr_cycle_count_t imu_measure(avr_t *avr, avr_cycle_count_t when, void *param)
{
    int16_t axes[7] = {0};
    (void)avr;
    (void)param;
    if (felt_count > 0) {
        /* Between two samples a line: held values would come up to a sample late. */
        const int32_t *from = felt_at(when) + CELLS, *to = felt_at(when + PERIOD) + CELLS;
        const double part = (double)(when % PERIOD) / PERIOD;
        int axis;
        for (axis = 0; axis < 3; axis++)
            axes[(axis + 2) % 3] = from[axis] + part * (to[axis] - from[axis]);
    } else
        memcpy(axes, imu_axes, sizeof axes);
    if (IMU_AWAKE) {
        int axis;
        imu.readings++;
        for (axis = 0; axis < 7; axis++) {
            const uint16_t word = axes[axis] + (imu.readings & 1);
            imu.registers[0x3b + 2 * axis] = word >> 8;
            imu.registers[0x3c + 2 * axis] = word & 0xff;
        }
        if (imu.registers[0x38] & 1) {
            avr_raise_irq(imu.interrupt, 1);
            avr_raise_irq(imu.interrupt, 0);
        }
    }
    return when + HZ / 200;
}

struct pin {
    avr_t *avr;
    avr_cycle_count_t first, last;
    uint32_t matches;
} buzzer;

/*
 * Each compare match toggles the pin. They are counted at the timer, because this emulator lets other writes to the
 * port disturb the pin, which on the chip they do not ("Compare Match Output Unit").
 */
static void on_match(avr_irq_t *irq, uint32_t value, void *param)
{
    struct pin *pin = param;
    (void)irq;
    (void)value;
    if (pin->matches++ == 0)
        pin->first = pin->avr->cycle;
    pin->last = pin->avr->cycle;
}

static uint32_t duty[3];

#define MOST_LOOKS 65536
static struct {
    avr_cycle_count_t at;
    uint32_t duty[3];
} looks[MOST_LOOKS];
static int look_count;

static void on_duty(avr_irq_t *irq, uint32_t value, void *param)
{
    uint32_t *color = param;
    (void)irq;
    if (*color == value)
        return;
    *color = value;
    if (look_count < MOST_LOOKS) {
        looks[look_count].at = buzzer.avr->cycle;
        memcpy(looks[look_count++].duty, duty, sizeof duty);
    }
}

static void keep(avr_t *avr, const char *path)
{
    static uint8_t bytes[1024];
    avr_eeprom_desc_t eeprom = {.ee = bytes, .offset = 0, .size = sizeof bytes};
    FILE *file = fopen(path, "rb");
    if (file && fread(bytes, 1, sizeof bytes, file) == sizeof bytes)
        avr_ioctl(avr, AVR_IOCTL_EEPROM_SET, &eeprom);
    if (file)
        fclose(file);
}

#define STACK(avr) ((avr)->data[0x5d] | (avr)->data[0x5e] << 8)

/* The host's bytes, each when it would come at 115200 baud. */
static struct {
    avr_cycle_count_t at;
    uint8_t byte;
} said[4096];
static int said_count;

int main(int argc, char **argv)
{
    avr_t *avr;
    uint32_t size = 0, base = 0, flags = 0;
    uint8_t *program;
    avr_cycle_count_t until;
    avr_irq_t *uart;
    avr_cycle_count_t woke = 0, longest = 0;
    int lowest = 0xffff;
    int i, next = 0;
    if (argc < 3 || !(program = read_ihex_file(argv[1], &size, &base)) || !(avr = avr_make_mcu_by_name("atmega328p")))
        return 2;
    if (getenv("CHIP_HZ"))
        HZ = atof(getenv("CHIP_HZ"));
    avr_init(avr);
    avr->frequency = HZ;
    avr->vcc = avr->avcc = avr->aref = 5000;
    avr->log = LOG_NONE;
    avr_loadcode(avr, program, size, base);
    avr->codeend = avr->flashend;
    if (getenv("EEPROM"))
        keep(avr, getenv("EEPROM"));
    if (getenv("SAMPLES"))
        read_samples(getenv("SAMPLES"));
    until = (argv[2][0] == '-' ? -1 : 1) * atof(argv[2]) * HZ;
    for (i = 3; i < argc; i++) {
        avr_cycle_count_t at = atof(argv[i]) * HZ;
        char *hex = strchr(argv[i], ':');
        for (hex = hex ? hex + 1 : ""; hex[0] && hex[1]; hex += 2) {
            unsigned byte;
            sscanf(hex, "%2x", &byte);
            said[said_count].at = at;
            said[said_count++].byte = byte;
            at += HZ * 10 / 115200;
        }
    }
    /* The emulator's own habit of handing what is sent to the terminal, and of sleeping in step with the clock. */
    avr_ioctl(avr, AVR_IOCTL_UART_GET_FLAGS('0'), &flags);
    flags &= ~(AVR_UART_FLAG_STDIO | AVR_UART_FLAG_POLL_SLEEP);
    avr_ioctl(avr, AVR_IOCTL_UART_SET_FLAGS('0'), &flags);
    uart = avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), 0);
    avr_irq_register_notify(uart + UART_IRQ_OUTPUT, on_byte, NULL);
    for (i = 0; i < CELLS; i++) {
        struct converter *c = &converter[i];
        c->avr = avr;
        c->word = counts[i] & 0xffffff;
        c->data = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('C'), i);
        avr_raise_irq(c->data, 1);
        avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('B'), 2 + i), on_clock, c);
    }
    avr_raise_irq(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), 4), 1);
    if (argv[2][0] != '-') {
        imu_power_on();
        imu.to_chip = avr_io_getirq(avr, AVR_IOCTL_TWI_GETIRQ(0), TWI_IRQ_INPUT);
        imu.interrupt = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), 2);
        avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_TWI_GETIRQ(0), TWI_IRQ_OUTPUT), on_twi, NULL);
        avr_cycle_timer_register(avr, HZ / 200, imu_measure, NULL);
    }
    if (getenv("CELL_MILLIVOLTS"))
        avr_raise_irq(avr_io_getirq(avr, AVR_IOCTL_ADC_GETIRQ, ADC_IRQ_ADC3), atoi(getenv("CELL_MILLIVOLTS")));
    buzzer.avr = avr;
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_TIMER_GETIRQ('1'), TIMER_IRQ_OUT_COMP), on_match, &buzzer);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_TIMER_GETIRQ('2'), TIMER_IRQ_OUT_PWM1), on_duty, &duty[0]);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_TIMER_GETIRQ('0'), TIMER_IRQ_OUT_PWM1), on_duty, &duty[1]);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_TIMER_GETIRQ('0'), TIMER_IRQ_OUT_PWM0), on_duty, &duty[2]);
    while (avr->cycle < until) {
        int state;
        for (; next < said_count && said[next].at <= avr->cycle; next++)
            avr_raise_irq(uart + UART_IRQ_INPUT, said[next].byte);
        state = avr_run(avr);
        if (state == cpu_Sleeping)
            woke = avr->cycle;
        /* The first second is the start, when it reads its EEPROM and waits for its sensors. */
        else if (avr->cycle > HZ) {
            if (avr->cycle - woke > longest)
                longest = avr->cycle - woke;
            if (STACK(avr) < lowest)
                lowest = STACK(avr);
        }
        if (state == cpu_Done || state == cpu_Crashed)
            break;
    }
    printf("\n");
    for (i = 0; i < look_count; i++)
        printf("look %.4f %u %u %u\n", (double)looks[i].at / HZ, looks[i].duty[0], looks[i].duty[1], looks[i].duty[2]);
    printf("awake %.6f\nstack %d\n", (double)longest / HZ, lowest);
    printf("duty %u %u %u\n", duty[0], duty[1], duty[2]);
    if (buzzer.matches > 1)
        printf("tone %.3f\n", (buzzer.matches - 1) / 2.0 * HZ / (buzzer.last - buzzer.first));
    return 0;
}
