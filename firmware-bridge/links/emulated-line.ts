/** The serial line of an emulated chip: bytes in both directions, each at the time given by the line's rate. */
import { type CPU, usart0Config } from 'avr8js';
import type { ChipParts, EmulatedChip } from './emulated-chip.ts';

const BITS_PER_BYTE = 10;
const HOST_BAUD = 115_200;
const RECEIVER_ON = 0x10;
const BYTE_WAITS = 0x80;

export class EmulatedLine {
  /** Bytes from the host lost because the chip's receiver was full (ATmega328P datasheet, "Data OverRun"). */
  overruns = 0;
  readonly #chip: EmulatedChip;
  readonly #toChip: number[] = [];
  #toChipAt = 0;
  #nextArrival = 0;
  #arriving = false;
  #parts: ChipParts | null = null;
  /** Second place of the receiver's queue; the first is the data register. -1: empty. */
  #second = -1;
  readonly #fromChip: { byte: number; atCycle: number }[] = [];
  #fromChipAt = 0;

  readonly #hostByteCycles: number;

  constructor(chip: EmulatedChip) {
    this.#chip = chip;
    this.#hostByteCycles = (chip.hz / HOST_BAUD) * BITS_PER_BYTE;
  }

  attach(parts: ChipParts): void {
    const { cpu, usart } = parts;
    this.#parts = parts;
    this.#second = -1;
    usart.onByteTransmit = (byte) => {
      const { UBRRL, UCSRA } = usart0Config;
      const perBit = (cpu.data[UBRRL]! + 1) * (cpu.data[UCSRA]! & 0x02 ? 8 : 16);
      this.#fromChip.push({ byte, atCycle: cpu.cycles + perBit * BITS_PER_BYTE });
    };
    keepReceivedByte(cpu);
    const { UDR } = usart0Config;
    const readByte = cpu.readHooks[UDR]!;
    cpu.readHooks[UDR] = (address) => {
      const byte = readByte(address);
      if (this.#second >= 0) {
        const next = this.#second;
        this.#second = -1;
        usart.writeByte(next, true);
      }
      return byte;
    };
  }

  /** Sends bytes from the host, starting now. */
  send(bytes: Uint8Array): void {
    for (const byte of bytes) this.#toChip.push(byte);
    if (this.#arriving || bytes.length === 0) return;
    this.#arriving = true;
    this.#nextArrival = Math.max(this.#nextArrival, this.#chip.cycle) + this.#hostByteCycles;
    this.#chip.at(this.#nextArrival, () => this.#arrive());
  }

  /** Number of bytes from the host that have not arrived yet. */
  get pending(): number {
    return this.#toChip.length - this.#toChipAt;
  }

  /** @returns bytes sent by the chip up to a cycle, except those returned before */
  take(untilCycle: number): Uint8Array {
    let end = this.#fromChipAt;
    while (end < this.#fromChip.length && this.#fromChip[end]!.atCycle <= untilCycle) end++;
    const bytes = Uint8Array.from(this.#fromChip.slice(this.#fromChipAt, end), ({ byte }) => byte);
    this.#fromChipAt = end;
    if (end === this.#fromChip.length) {
      this.#fromChip.length = 0;
      this.#fromChipAt = 0;
    }
    return bytes;
  }

  #arrive(): void {
    this.#receive(this.#toChip[this.#toChipAt++]!);
    this.#arriving = this.#toChipAt < this.#toChip.length;
    if (this.#arriving) {
      this.#nextArrival += this.#hostByteCycles;
      this.#chip.at(this.#nextArrival, () => this.#arrive());
    } else {
      this.#toChip.length = 0;
      this.#toChipAt = 0;
    }
  }

  #receive(byte: number): void {
    const { cpu, usart } = this.#parts!;
    if (!(cpu.data[usart0Config.UCSRB]! & RECEIVER_ON)) return;
    if (!(cpu.data[usart0Config.UCSRA]! & BYTE_WAITS)) usart.writeByte(byte, true);
    else if (this.#second < 0) this.#second = byte;
    else this.overruns++;
  }
}

/** In avr8js writing UCSRB with the receiver on loses a byte that has arrived; on the chip it does not. */
function keepReceivedByte(cpu: CPU): void {
  const { UCSRB } = usart0Config;
  const write = cpu.writeHooks[UCSRB]!;
  cpu.writeHooks[UCSRB] = (value, old, address, mask) => write(value, old & ~RECEIVER_ON, address, mask);
}
