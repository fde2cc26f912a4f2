/**
 * The emulated chip's timers, without events for ticks at which nothing happens. avr8js itself creates an event for each
 * tick of each timer, half a million a second; only compare matches and overflows matter, and it counts correctly over any
 * number of ticks between them.
 */
import { AVRTimer, type AVRTimerConfig, type CPU, timer0Config, timer1Config, timer2Config } from 'avr8js';

/** Private fields of a timer that are used here. */
interface Inside {
  readonly count: (reschedule?: boolean) => void;
  readonly divider: number;
  readonly tcnt: number;
  readonly ocrA: number;
  readonly ocrB: number;
  readonly TOP: number;
  /** 0 normal, 2 clear on compare, 3 fast PWM: the modes that only count up. */
  readonly timerMode: number;
}

const COUNTS_UP = new Set([0, 2, 3]);

/**
 * Puts Timer0, Timer1 and Timer2 into the chip.
 * @param everyTick leave them as in avr8js, for comparison
 */
export function addTimers(cpu: CPU, everyTick = false): void {
  const configs = [timer0Config, timer1Config, timer2Config];
  if (everyTick) {
    for (const config of configs) new AVRTimer(cpu, config);
    return;
  }
  const timers = configs.map((config) => addTimer(cpu, config));
  const addClockEvent = cpu.addClockEvent.bind(cpu);
  cpu.addClockEvent = (callback, cycles) => {
    const timer = timers.find(({ count }) => count === callback);
    // An event for now (0 cycles) follows a write to the timer's registers and is left as it is.
    const isTick = timer !== undefined && cycles > 0 && COUNTS_UP.has(timer.timerMode);
    return addClockEvent(callback, isTick ? cycles + (ticksToNext(timer) - 1) * timer.divider : cycles);
  };
}

function addTimer(cpu: CPU, config: AVRTimerConfig): Inside {
  const timer = new AVRTimer(cpu, config) as unknown as Inside;
  for (const register of [config.OCRA, config.OCRB]) {
    const write = cpu.writeHooks[register]!;
    cpu.writeHooks[register] = (...written) => {
      timer.count(false);
      const done = write(...written);
      // The next event may be earlier now.
      cpu.updateClockEvent(timer.count, 0);
      return done;
    };
  }
  return timer;
}

/** @returns ticks from the present count to the next compare match or overflow, at least 1 */
function ticksToNext({ tcnt, ocrA, ocrB, TOP }: Inside): number {
  let ticks = Math.max(1, TOP + 1 - tcnt);
  if (ocrA > tcnt) ticks = Math.min(ticks, ocrA - tcnt);
  if (ocrB > tcnt) ticks = Math.min(ticks, ocrB - tcnt);
  return ticks;
}
