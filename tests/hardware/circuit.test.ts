import { describe, expect, it } from 'vitest';
import { BOUGHT } from '../../hardware/bought-parts.ts';
import { CONVERTER_DATA } from '../../hardware/budgets/cells.ts';
import { BATTERY, batteryMa, totalMa } from '../../hardware/budgets/power.ts';
import { busSides, circuitFindings, outputLoads, railLoads } from '../../hardware/circuit/check.ts';
import { MODULES, OTHER_PLACES } from '../../hardware/circuit/modules.ts';
import { SLEEVE_CIRCUIT } from '../../hardware/circuit/sleeve-nets.ts';
import type { Circuit, CircuitPart, CircuitPin, Net } from '../../hardware/circuit/types.ts';
import { schematicDrawing } from '../../hardware/drawings/schematic.ts';
import { ELECTRICAL, type WiredPart } from '../../hardware/pins.ts';
import { boardWires, wiredPins } from '../../hardware/wiring.ts';

const circuit = SLEEVE_CIRCUIT;
const netWith = (pin: string) => circuit.nets.find(({ pins }) => pins.includes(pin))!;
const part = (ref: string) => circuit.parts.find((each) => each.ref === ref)!;

/** The circuit with one net, or one part, changed. */
const withNet = (name: string, change: (net: Net) => Net): Circuit => ({
  ...circuit,
  nets: circuit.nets.map((net) => (net.name === name ? change(net) : net)),
});
const withPart = (ref: string, change: (one: CircuitPart) => CircuitPart): Circuit => ({
  ...circuit,
  parts: circuit.parts.map((one) => (one.ref === ref ? change(one) : one)),
});
const withPin = (ref: string, pin: string, change: Partial<CircuitPin>): Circuit =>
  withPart(ref, (one) => ({
    ...one,
    pins: one.pins.map((each) => (each.name === pin ? { ...each, ...change } : each)),
  }));
const without = (pin: string) => (net: Net) => ({ ...net, pins: net.pins.filter((each) => each !== pin) });
const and = (pin: string) => (net: Net) => ({ ...net, pins: [...net.pins, pin] });

describe('the circuit', () => {
  it('has nothing wrong', () => {
    expect(circuitFindings(circuit)).toEqual([]);
    expect(circuit.parts.length).toBeGreaterThan(90);
  });

  it.each<[string, Circuit, RegExp]>([
    ['a pin on two nets', withNet('BUTTON', and('U1.D2')), /U1\.D2 is on INT and on BUTTON/],
    ['a pin on no net', withNet('INT', without('U1.D2')), /U1\.D2 is on no net/],
    ['a pin that no part has', withNet('BUTTON', and('U1.D99')), /no part has: U1\.D99/],
    ['a net of one pin', withNet('BUTTON', without('S2.1')), /BUTTON has one pin/],
    ['an open pin on a net', withNet('BUTTON', and('UA.XO')), /UA\.XO is to stay open/],
    [
      'two parts of one name',
      { ...circuit, parts: [...circuit.parts, part('R20')] },
      /Two parts are called R20/,
    ],
    ['two outputs on a net', withNet('DOUT_A', and('UF.DOUT')), /two outputs: UA\.DOUT and UF\.DOUT/],
    ['an input that nothing drives', withNet('INT', without('R16.2')), /Nothing drives U1\.D2/],
    [
      '3.3 V into a chip on 5 V',
      withNet('INT', (net) => ({ ...net, pins: ['U8.INT', 'U1.D2'] })),
      /U1\.D2 needs 3 V to read high/,
    ],
    [
      '5 V into a radio of 3.3 V',
      withNet('TX_3', (net) => ({ ...net, pins: ['U10.RXD', 'U1.D1/TX'] })),
      /U10\.RXD stands 3\.6 V/,
    ],
    [
      'a supply out of range',
      withNet('3V3', (net) => ({ ...net, volts: [4.9, 5.1] })),
      /U8\.VDD is for 2\.4 to 3\.46 V/,
    ],
    [
      'a supply that is none',
      withNet('CHG', ({ volts: _, ...net }) => net),
      /U7\.VIN takes its supply from CHG/,
    ],
    ['no capacitor beside a chip', withNet('3V3', without('C12.1')), /U8\.VDD has no capacitor/],
    [
      'a capacitor on another board',
      withPart('C12', (one) => ({ ...one, on: 'grip' })),
      /U8\.VDD has no capacitor/,
    ],
    ['too much out of a pin', withPart('R20', (one) => ({ ...one, ohms: 220 })), /U1\.D9 gives: 23\.2 mA/],
    ['too much out of a supply', withPin('U6', 'OUT', { limitMa: 40 }), /U6\.OUT gives: 49\.3 mA/],
    [
      'too much out of the battery, through plug and switch',
      withPin('BT1', '+', { limitMa: 150 }),
      /BT1\.\+ gives: 190/,
    ],
    ['a bus too slow', withNet('SDA_5', (net) => ({ ...net, wireCm: 60 })), /SDA_5 rises in: 6\d\d/],
    [
      'a bus too strong',
      withPart('R10', (one) => ({ ...one, ohms: 1000 })),
      /SDA_5 is pulled down with: 3\.9 mA/,
    ],
  ])('is found out with %s', (_, wrong, words) => {
    expect(circuitFindings(wrong).join('\n')).toMatch(words);
  });

  it('joins the chip’s pins to what the pin table says', () => {
    const refs: Partial<Record<WiredPart, RegExp>> = {
      'serial-bridge': /^U9\.HV/,
      accelerometer: /^(U9\.HV|Q2\.D)/,
      light: /^R1[789]\./,
      button: /^S2\./,
      buzzer: /^R20\./,
      battery: /^R2\./,
      'axial-converter': /^UA\./,
      'front-converter': /^UF\./,
      'rear-converter': /^UR\./,
    };
    for (const pin of wiredPins()) {
      const { part: wired, terminal } = pin.wiredTo!;
      if (wired === 'grip-motor') continue;
      const { pins } = netWith(`U1.${pin.label}`);
      expect([pin.label, pins.some((id) => refs[wired]!.test(id))]).toEqual([pin.label, true]);
      if (wired.endsWith('converter')) expect(pins.some((id) => id.endsWith(`.${terminal}`))).toBe(true);
    }
    // Through the shifter the lines of the radio cross: what the chip sends the radio receives.
    expect(netWith('U1.D1/TX').pins).toContain('U9.HV3');
    expect(netWith('U10.RXD').pins).toContain('U9.LV3');
    expect(netWith('U1.D0/RX').pins).toContain('U9.HV4');
    expect(netWith('U10.TXD').pins).toContain('U9.LV4');
  });

  it('has one clock for chip and converters, and 80 readings a second', () => {
    const clock = netWith('R3.2').pins;
    expect(clock).toContain('U1.XTAL1');
    for (const c of ['A', 'F', 'R']) {
      expect(clock).toContain(`C${c}7.1`);
      expect(netWith(`U${c}.XI`).pins).toContain(`C${c}7.2`);
      expect(netWith(`U${c}.RATE`).name).toBe('5V');
    }
    expect(part('Y1').value).toContain('11.0592 MHz');
    // 115200 baud exactly: 11.0592 MHz / (8·(11 + 1)) with double speed (ATmega328P datasheet, USART baud rate; its table has 0.0 %).
    expect(ELECTRICAL.converterClockHz / (8 * 12)).toBe(115_200);
    // The edge behind 100 Ω: 2.2·R·C of a quarter period at most.
    const pf = 10 + 3 * 20 + netWith('R3.2').wireCm!;
    expect(2.2 * part('R3').ohms! * pf * 1e-12).toBeLessThan(1 / ELECTRICAL.converterClockHz / 4);
  });

  it('sets the analog supply by its divider, as the datasheet does: 1.25 V·(R1 + R2)/R2', () => {
    for (const c of ['A', 'F', 'R']) {
      const [upper, lower] = [part(`R${c}1`).ohms!, part(`R${c}2`).ohms!];
      expect((1.25 * (upper + lower)) / lower).toBeCloseTo(CONVERTER_DATA.excitationV, 2);
      // Filter before INA: 200 Ω and 100 nF, 8 kHz: far above the 80 readings, far below the oscillator.
      const cutHz =
        1 /
        (2 * Math.PI * (part(`R${c}3`).ohms! + part(`R${c}4`).ohms!) * part(`C${c}4`).picofarads! * 1e-12);
      expect(cutHz).toBeGreaterThan(1000);
      expect(cutHz).toBeLessThan(100_000);
    }
  });

  it('takes what the power budget says', () => {
    const five = railLoads(circuit, 0).find(({ source }) => source === 'U5.OUT')!;
    expect(five.loadMa).toBeCloseTo(totalMa('usualMa'), 1);
    expect(railLoads(circuit).find(({ source }) => source === 'U5.OUT')!.loadMa).toBeCloseTo(
      totalMa('greatestMa'),
      -1,
    );
    const cell = railLoads(circuit, 0).find(({ source }) => source === 'BT1.+')!;
    expect(Math.abs(cell.loadMa - batteryMa(totalMa('usualMa')))).toBeLessThan(6);
    // Charging: 1000 V over the resistor, half the capacity an hour.
    expect(1000 / part('R5').ohms!).toBeCloseTo(BATTERY.capacityMah / 2000, 6);
    expect(outputLoads(circuit).length).toBeGreaterThan(8);
    for (const { riseNs } of busSides(circuit)) expect(riseNs).toBeLessThan(300);
  });

  it('charges only while it is off, and has dead contacts', () => {
    // On the stand, PAD turns the transistor on through a divider, and it pulls the booster's enable pin down.
    expect(netWith('Q1.G').pins).toEqual(expect.arrayContaining(['R6.2', 'R7.1']));
    expect(netWith('R6.1').name).toBe('PAD');
    expect(netWith('Q1.D').pins).toContain('U5.EN');
    // The contacts lead only to the diode's anode and the gate's resistor.
    expect([...netWith('J3.+').pins].sort()).toEqual(['D1.A', 'J3.+', 'R6.1']);
  });
});

describe('the boards', () => {
  it('have a place for every part, and a wire for every net that leaves one', () => {
    const places = new Set([...MODULES.map(({ name }) => name), ...OTHER_PLACES]);
    expect(circuit.parts.filter(({ on }) => !places.has(on))).toEqual([]);
    for (const { name } of MODULES) expect(circuit.parts.some(({ on }) => on === name)).toBe(true);
    const wires = boardWires();
    expect(
      wires
        .find(({ net }) => net === 'DOUT_A')!
        .ends.map(({ board }) => board)
        .sort(),
    ).toEqual(['axial converter board', 'chip board']);
    expect(wires.some(({ net }) => net === 'VFB_A')).toBe(false);
  });

  it('have their small parts in the list, each once', () => {
    const listed = BOUGHT.filter(({ part: name }) => name === 'resistor' || name === 'capacitor').flatMap(
      (line) => {
        const refs = line.mustMeet.split(' of the schematic')[0]!.split(', ');
        expect(refs).toHaveLength(line.quantity);
        for (const ref of refs) expect(line.rating).toContain(part(ref).value);
        return refs;
      },
    );
    expect(new Set(listed).size).toBe(listed.length);
    for (const ref of ['R17', 'R20', 'R2', 'RA5', 'RF5', 'RR5', 'CA7', 'CF7', 'CR7', 'R5'])
      expect(listed).toContain(ref);
  });

  it('are all in the schematic: every part, every net', () => {
    const drawn = schematicDrawing();
    for (const { ref } of circuit.parts) expect([ref, drawn.includes(`>${ref}  `)]).toEqual([ref, true]);
    for (const { name } of circuit.nets)
      expect([name, drawn.includes(`>${name}</text>`)]).toEqual([name, true]);
    expect(drawn).not.toContain('>?</text>');
  });
});
