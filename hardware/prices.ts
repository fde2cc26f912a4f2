/** Rough prices of single pieces in US dollars, from memory, without shipping. Pure. */

export type Dollars = readonly [low: number, high: number];

/** For the whole line; made parts by a printing service, or filament and sheet at home. */
const PRICES: Readonly<Record<string, Dollars>> = {
  'load cell, straight bar, full bridge': [12, 36],
  'converter board, HX711-class': [6, 15],
  'clock oscillator': [1, 4],
  'accelerometer with gyroscope, I²C and interrupt output, on its own board': [3, 12],
  'ATmega328P board': [4, 12],
  'radio board': [5, 15],
  'lithium-ion pouch cell with protection board and plug': [6, 12],
  'booster board': [3, 8],
  'regulator 3.3 V': [0.3, 1],
  'charger of one cell': [0.5, 3],
  'transistor, N-channel': [0.3, 1],
  diodes: [0.2, 1],
  'charging contact': [0.3, 1],
  'light: three-color LED': [0.3, 1],
  resistor: [0.05, 0.3],
  capacitor: [0.1, 0.6],
  'level shifter board': [1, 4],
  'buzzer, passive': [0.5, 2],
  'vibration motor, option': [1, 4],
  'push button': [0.3, 1],
  'slide switch': [0.5, 2],
  'power board': [0.5, 2],
  'music wire': [2, 6],
  'clamp for a strut': [2, 6],
  'stop pin, hardened dowel': [1, 4],
  'spacer on a stop pin': [0.5, 2],
  'screw for a cell’s fixed end': [1, 3],
  'spring under a cell’s screw': [4, 15],
  'screws for cover and cap': [0.5, 2],
  'captive screw of the battery door': [0.5, 2],
  wire: [2, 6],
  glue: [3, 8],
  'inner cup': [4, 25],
  liner: [4, 30],
  'small cup': [2, 18],
  shell: [8, 50],
  'grip cover': [1, 10],
  'battery door': [0.5, 6],
  'end cap': [1, 10],
  'light disc': [0.1, 4],
  'window pane': [1, 3],
  'front film': [0.2, 1],
  'USB-to-serial adapter': [3, 10],
  'in-system programmer for ATmega chips': [5, 20],
  'USB isolator': [15, 40],
  'charging stand': [6, 15],
  'bench weights': [0, 25],
  syringe: [1, 3],
};

/** @throws RangeError when a part has no price */
export function priceOf(part: string): Dollars {
  const price = PRICES[part];
  if (!price) throw new RangeError(`No rough price for "${part}": add one in hardware/prices.ts.`);
  return price;
}
