import { expect, it } from 'vitest';
import { PINS, pinNamed } from '../../hardware/pins.ts';

it('lists the pins 0 to 19 in order, each name and each port bit once', () => {
  expect(PINS.map(({ number }) => number)).toEqual(Array.from({ length: 20 }, (_, i) => i));
  expect(new Set(PINS.map(({ name }) => name)).size).toBe(20);
  expect(new Set(PINS.map(({ port, bit }) => `${port}${bit}`)).size).toBe(20);
});

it('has the ports of the usual boards: 0–7 port D, 8–13 port B, 14–19 port C', () => {
  for (const { number, port, bit } of PINS) {
    const [expectedPort, first] = number < 8 ? ['D', 0] : number < 14 ? ['B', 8] : ['C', 14];
    expect([port, bit]).toEqual([expectedPort, number - (first as number)]);
  }
});

// ATmega328P datasheet, "Alternate Port Functions": which pin each unit of the chip comes out at.
it.each([
  ['LINE_RX', 'D', 0, 'USART0'],
  ['LINE_TX', 'D', 1, 'USART0'],
  ['ACCEL_INT', 'D', 2, 'INT0'],
  ['LIGHT_RED', 'D', 3, 'OC2B'],
  ['LIGHT_GREEN', 'D', 5, 'OC0B'],
  ['LIGHT_BLUE', 'D', 6, 'OC0A'],
  ['BUZZER', 'B', 1, 'OC1A'],
  ['ACCEL_SDA', 'C', 4, 'TWI'],
  ['ACCEL_SCL', 'C', 5, 'TWI'],
])('%s is port %s bit %i, where %s is', (name, port, bit, unit) => {
  const pin = pinNamed(name);
  expect([pin.port, pin.bit]).toEqual([port, bit]);
  expect(pin.unit).toContain(unit);
});

it('knows no other names', () => {
  expect(() => pinNamed('NOTHING')).toThrow(/NOTHING/);
});
