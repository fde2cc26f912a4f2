/**
 * An ATmega328P that runs a program, by avr8js. Time is counted in clock cycles since it was switched on and
 * continues over resets. Where the emulator differs from the chip it is corrected here, each time with the reason.
 */
import {
  AVRADC,
  AVRClock,
  AVREEPROM,
  AVRIOPort,
  AVRTWI,
  AVRUSART,
  AVRWatchdog,
  adcConfig,
  avrInstruction,
  CPU,
  EEPROMMemoryBackend,
  PCINT0,
  PCINT1,
  PCINT2,
  portBConfig,
  portCConfig,
  portDConfig,
  twiConfig,
  usart0Config,
} from 'avr8js';
import { addTimers } from './emulated-timers.ts';

/** Clock of the usual boards. */
export const CHIP_HZ = 16_000_000;
const RAM_BYTES = 2048;
const EEPROM_BYTES = 1024;
/** Opcode of SLEEP; "AVR Instruction Set Manual". */
const SLEEP = 0x9588;
const MCUSR = 0x54;
const SREG = 0x5f;
const INTERRUPTS = 0x80;

/** Flags of MCUSR (ATmega328P datasheet, "MCU Status Register"). */
const RESET_FLAGS = { power: 0x01, external: 0x02, brownOut: 0x04, watchdog: 0x08 } as const;
export type ChipReset = keyof typeof RESET_FLAGS;

/** Parts of the chip that are created again at each reset. */
export interface ChipParts {
  readonly cpu: CPU;
  readonly portB: AVRIOPort;
  readonly portC: AVRIOPort;
  readonly portD: AVRIOPort;
  readonly usart: AVRUSART;
  readonly twi: AVRTWI;
  readonly adc: AVRADC;
}

interface Waiting {
  atCycle: number;
  run: () => void;
}

export class EmulatedChip {
  /** EEPROM, which keeps its content over resets. */
  readonly eeprom = new EEPROMMemoryBackend(EEPROM_BYTES);
  /** Number of resets by cause; switching on counts. */
  readonly resets: Record<ChipReset, number> = { power: 0, external: 0, brownOut: 0, watchdog: 0 };
  parts!: ChipParts;
  readonly #program: Uint16Array;
  readonly #attach: (parts: ChipParts) => void;
  /** Events outside of the chip, soonest first. */
  readonly #waiting: Waiting[] = [];
  readonly #everyTick: boolean;
  #soonest = Number.POSITIVE_INFINITY;
  #asleep = false;
  #held = false;
  #watchdogBit = false;
  #awakeSince = 0;
  /** Longest time that the core ran without sleeping, seconds; may be reset by anybody. */
  longestAwakeSec = 0;

  /**
   * @param attach connects the outside to the chip's parts; called at each reset
   * @param everyTick let avr8js handle each tick of each timer: slow, and must give the same result
   */
  constructor(
    program: Uint16Array,
    attach: (parts: ChipParts) => void,
    everyTick = false,
    /** Clock of the chip, Hz. */
    readonly hz: number = CHIP_HZ,
  ) {
    this.#program = program;
    this.#attach = attach;
    this.#everyTick = everyTick;
  }

  /** Clock cycles since it was switched on. */
  get cycle(): number {
    return this.parts?.cpu.cycles ?? 0;
  }

  get nowSec(): number {
    return this.cycle / this.hz;
  }

  /** Schedules an event outside of the chip at a cycle, or as soon as possible if that has passed. */
  at(atCycle: number, run: () => void): void {
    let place = this.#waiting.length;
    while (place > 0 && this.#waiting[place - 1]!.atCycle > atCycle) place--;
    this.#waiting.splice(place, 0, { atCycle, run });
    this.#soonest = this.#waiting[0]!.atCycle;
  }

  /** Starts the program again. */
  reset(cause: ChipReset): void {
    const cycles = this.cycle;
    const cpu = new CPU(this.#program, RAM_BYTES);
    cpu.cycles = cycles;
    const clock = new AVRClock(cpu, this.hz);
    this.parts = {
      cpu,
      portB: new AVRIOPort(cpu, portBConfig),
      portC: new AVRIOPort(cpu, portCConfig),
      portD: new AVRIOPort(cpu, portDConfig),
      usart: new AVRUSART(cpu, usart0Config, this.hz),
      twi: new AVRTWI(cpu, twiConfig, this.hz),
      adc: new AVRADC(cpu, adcConfig),
    };
    addTimers(cpu, this.#everyTick);
    new AVREEPROM(cpu, this.eeprom);
    new AVRWatchdog(cpu, { watchdogInterrupt: 0x0c, MCUSR, WDTCSR: 0x60 }, clock);
    cpu.data[MCUSR] = RESET_FLAGS[cause];
    // The watchdog of avr8js restarts only the core and leaves everything else as it is.
    cpu.reset = () => {
      this.#watchdogBit = true;
    };
    keepPinChanges(cpu);
    this.resets[cause]++;
    this.#asleep = false;
    this.#watchdogBit = false;
    this.#attach(this.parts);
  }

  /** Holds the chip in reset, like a supply that is too low, until it is reset again. */
  hold(): void {
    this.#held = true;
  }

  release(cause: ChipReset): void {
    if (!this.#held) return;
    this.#held = false;
    this.reset(cause);
  }

  /** Runs up to a cycle; the last instruction may end a little later. */
  run(untilCycle: number): void {
    const program = this.#program;
    // A local name: an imported one may be looked up at each call.
    const execute = avrInstruction;
    while (this.cycle < untilCycle) {
      if (this.#held) {
        this.#idle(untilCycle);
        continue;
      }
      const { cpu } = this.parts;
      const { data } = cpu;
      let enabled = data[SREG]! & INTERRUPTS;
      while (cpu.cycles < untilCycle) {
        if (cpu.cycles >= this.#soonest) this.#runWaiting();
        if (this.#asleep) {
          this.#sleep(cpu, untilCycle);
        } else {
          this.#asleep = program[cpu.pc] === SLEEP;
          if (this.#asleep) this.#noteAwake();
          execute(cpu);
          // The instruction after the one that enables interrupts runs before any interrupt ("AVR Instruction Set Manual", SEI);
          // programs rely on it when they write the stack pointer in two halves. avr8js allows an interrupt between them.
          const justEnabled = enabled === 0 && (data[SREG]! & INTERRUPTS) !== 0;
          if (!this.#asleep && !justEnabled) cpu.tick();
        }
        enabled = data[SREG]! & INTERRUPTS;
        if (this.#watchdogBit) this.reset('watchdog');
        if (this.#held || cpu !== this.parts.cpu) break;
      }
    }
  }

  /** The core stands still until an interrupt, so time jumps to the next event; this gives most of the speed. */
  #sleep(cpu: CPU, untilCycle: number): void {
    const inside = (cpu as unknown as { nextClockEvent: { cycles: number } | null }).nextClockEvent;
    const next = Math.min(inside?.cycles ?? Number.POSITIVE_INFINITY, this.#soonest, untilCycle);
    if (cpu.nextInterrupt < 0 && next > cpu.cycles) cpu.cycles = next;
    const { pc } = cpu;
    cpu.tick();
    // An interrupt was taken: the core continues in it.
    if (cpu.pc !== pc) {
      this.#asleep = false;
      this.#awakeSince = cpu.cycles;
    }
  }

  #noteAwake(): void {
    this.longestAwakeSec = Math.max(this.longestAwakeSec, (this.cycle - this.#awakeSince) / this.hz);
  }

  #idle(untilCycle: number): void {
    this.parts.cpu.cycles = Math.max(this.cycle, Math.min(this.#soonest, untilCycle));
    if (this.cycle >= this.#soonest) this.#runWaiting();
  }

  #runWaiting(): void {
    const { run } = this.#waiting.shift()!;
    this.#soonest = this.#waiting[0]?.atCycle ?? Number.POSITIVE_INFINITY;
    run();
  }
}

/** In avr8js writing a mask of pins may lose an interrupt requested by another pin of the port; on the chip it does not. */
function keepPinChanges(cpu: CPU): void {
  for (const { PCMSK } of [PCINT0, PCINT1, PCINT2]) {
    cpu.writeHooks[PCMSK] = (mask) => {
      cpu.data[PCMSK] = mask;
      return true;
    };
  }
}
