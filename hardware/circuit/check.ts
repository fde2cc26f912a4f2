/** Looks a circuit over: pins, drivers, levels, supplies, decoupling, currents, the two-wire bus. Pure. Each finding is a sentence. */
import type { Circuit, CircuitPart, CircuitPin, Net } from './types.ts';

interface Placed {
  readonly id: string;
  readonly part: CircuitPart;
  readonly pin: CircuitPin;
}

/** Least capacitor that counts as decoupling, pF. Common practice, no source. */
const DECOUPLING_PF = 100_000;
/** Fast mode: rise time at most 300 ns, t = 0.8473·R·C (UM10204, I²C-bus specification and user manual). */
const RISE_NS = 300;

/** A circuit with its pins looked up both ways. */
class Lookup {
  readonly pins = new Map<string, Placed>();
  readonly netOf = new Map<string, Net>();
  readonly placed = new Map<Net, Placed[]>();

  constructor(readonly circuit: Circuit) {
    for (const part of circuit.parts)
      for (const pin of part.pins)
        this.pins.set(`${part.ref}.${pin.name}`, { id: `${part.ref}.${pin.name}`, part, pin });
    for (const net of circuit.nets) {
      this.placed.set(
        net,
        net.pins.flatMap((id) => this.pins.get(id) ?? []),
      );
      for (const id of net.pins) if (!this.netOf.has(id)) this.netOf.set(id, net);
    }
  }

  on = (net: Net): Placed[] => this.placed.get(net)!;

  /** Two-legged parts of a kind with one leg on this net, and the net of the other leg. */
  across(net: Net, kind: CircuitPart['kind']): { part: CircuitPart; other: Net }[] {
    return this.on(net)
      .filter(({ part }) => part.kind === kind)
      .flatMap(({ part, pin }) => {
        const far = part.pins.find(({ name }) => name !== pin.name);
        const other = far && this.netOf.get(`${part.ref}.${far.name}`);
        return other && other !== net ? [{ part, other }] : [];
      });
  }

  isGround = (net: Net): boolean => this.on(net).some(({ pin }) => pin.kind === 'ground');
}

function pinFindings({ circuit, pins, netOf }: Lookup): string[] {
  const found: string[] = [];
  const seen = new Map<string, string>();
  const refs = new Set<string>();
  for (const { ref } of circuit.parts) {
    if (refs.has(ref)) found.push(`Two parts are called ${ref}.`);
    refs.add(ref);
  }
  for (const net of circuit.nets) {
    if (net.pins.length < 2) found.push(`Net ${net.name} has one pin only: ${net.pins.join()}.`);
    for (const id of net.pins) {
      if (!pins.has(id)) found.push(`Net ${net.name} names a pin that no part has: ${id}.`);
      if (seen.has(id)) found.push(`Pin ${id} is on ${seen.get(id)} and on ${net.name}.`);
      seen.set(id, net.name);
    }
  }
  for (const { id, pin } of pins.values()) {
    if (!netOf.has(id) && pin.open === undefined) found.push(`Pin ${id} is on no net.`);
    if (netOf.has(id) && pin.open !== undefined)
      found.push(`Pin ${id} is to stay open, but is on ${netOf.get(id)!.name}.`);
  }
  return found;
}

/** Levels that a net can have when it is high, V: from outputs, from a supply, from a resistor to either. */
function highLevels(look: Lookup, net: Net, through = true): (readonly [least: number, most: number])[] {
  if (net.volts) return [net.volts];
  const own = look.on(net).flatMap(({ pin }) => (pin.kind === 'out' && pin.highV ? [pin.highV] : []));
  if (own.length > 0 || !through) return own;
  return look.across(net, 'resistor').flatMap(({ part, other }) => {
    if (look.isGround(other)) return [];
    // A resistor to ground beside it makes a divider.
    const down = look.across(net, 'resistor').find((each) => look.isGround(each.other))?.part.ohms;
    const share = down ? down / (down + part.ohms!) : 1;
    return highLevels(look, other, false).map(([least, most]) => [least * share, most * share] as const);
  });
}

function levelFindings(look: Lookup): string[] {
  return look.circuit.nets.flatMap((net) => {
    const on = look.on(net);
    const found: string[] = [];
    const outs = on.filter(({ pin }) => pin.kind === 'out');
    if (outs.length > 1)
      found.push(`Net ${net.name} has two outputs: ${outs.map(({ id }) => id).join(' and ')}.`);
    if (look.isGround(net)) return found;
    const levels = highLevels(look, net);
    for (const { id, pin } of on) {
      if (pin.kind !== 'in' && pin.kind !== 'open-drain') continue;
      if (levels.length === 0 && !pin.pullUp) found.push(`Nothing drives ${id} on ${net.name} high.`);
      for (const [least, most] of levels) {
        if (pin.inputV && least < pin.inputV[0] - 1e-9)
          found.push(
            `${id} needs ${pin.inputV[0]} V to read high; ${net.name} has ${least.toFixed(2)} V at least.`,
          );
        if (pin.inputV && most > pin.inputV[1] + 1e-9)
          found.push(`${id} stands ${pin.inputV[1]} V; ${net.name} may have ${most.toFixed(2)} V.`);
      }
    }
    return found;
  });
}

function supplyFindings(look: Lookup): string[] {
  return look.circuit.nets.flatMap((net) =>
    look.on(net).flatMap(({ id, part, pin }) => {
      if (pin.kind !== 'supply') return [];
      const found: string[] = [];
      if (!net.volts) return [`${id} takes its supply from ${net.name}, which is none.`];
      if (pin.rangeV && (net.volts[0] < pin.rangeV[0] || net.volts[1] > pin.rangeV[1]))
        found.push(`${id} is for ${pin.rangeV.join(' to ')} V; ${net.name} has ${net.volts.join(' to ')} V.`);
      const near = look
        .across(net, 'capacitor')
        .some(
          ({ part: capacitor, other }) =>
            look.isGround(other) && capacitor.on === part.on && capacitor.picofarads! >= DECOUPLING_PF,
        );
      if (part.kind === 'chip' && !near) found.push(`${id} has no capacitor of 100 nF on its own board.`);
      return found;
    }),
  );
}

/** Nets that a switch or a plug joins with this one. */
function joined(look: Lookup, net: Net, known = new Set<Net>()): Set<Net> {
  known.add(net);
  for (const { other } of look.across(net, 'other'))
    if (!known.has(other) && !look.isGround(other) && other.volts) joined(look, other, known);
  return known;
}

/** Greatest mean current out of each source, mA. */
export function railLoads(
  circuit: Circuit,
  which: 0 | 1 = 1,
): { source: string; net: string; loadMa: number; limitMa: number }[] {
  const look = new Lookup(circuit);
  return [...look.pins.values()].flatMap(({ id, pin }) => {
    const net = look.netOf.get(id);
    if (pin.kind !== 'source' || !net) return [];
    const loadMa = [...joined(look, net)]
      .flatMap((each) => look.on(each))
      .reduce((sum, { pin: taker }) => sum + (taker.drawsMa?.[which] ?? 0), 0);
    return [{ source: id, net: net.name, loadMa, limitMa: pin.limitMa! }];
  });
}

/** Current out of every output into resistors, mA. */
export function outputLoads(circuit: Circuit): { pin: string; loadMa: number; limitMa: number }[] {
  const look = new Lookup(circuit);
  return [...look.pins.values()].flatMap(({ id, pin }) => {
    const net = look.netOf.get(id);
    if (pin.kind !== 'out' || !net || pin.limitMa === undefined) return [];
    const loadMa = look.across(net, 'resistor').reduce((sum, { part, other }) => {
      const inputsOnly = look
        .on(other)
        .every(
          (each) =>
            ['in', 'analog'].includes(each.pin.kind) || ['resistor', 'capacitor'].includes(each.part.kind),
        );
      if (inputsOnly && !look.isGround(other)) return sum;
      const drop = look.on(other).find((each) => each.part.kind === 'light')?.part.dropV ?? 0;
      return sum + (1000 * (pin.highV![1] - drop)) / part.ohms!;
    }, 0);
    return [{ pin: id, loadMa, limitMa: pin.limitMa }];
  });
}

export interface BusSide {
  readonly net: string;
  readonly riseNs: number;
  /** Both sides of the shifter together, mA. */
  readonly sinkMa: number;
  readonly limitMa: number;
}

const pullUps = (look: Lookup, net: Net) => look.across(net, 'resistor').filter(({ other }) => other.volts);
const pullMa = (look: Lookup, net: Net) =>
  pullUps(look, net).reduce((sum, { part, other }) => sum + (1000 * other.volts![1]) / part.ohms!, 0);

/** Rise time and sinking current of each line of the two-wire bus. */
export function busSides(circuit: Circuit): BusSide[] {
  const look = new Lookup(circuit);
  return circuit.nets
    .filter(({ bus }) => bus === 'i2c')
    .map((net) => {
      const ohms = 1 / pullUps(look, net).reduce((sum, { part }) => sum + 1 / part.ohms!, 0);
      const pf = look.on(net).reduce((sum, { pin }) => sum + (pin.picofarads ?? 0), 0) + (net.wireCm ?? 0);
      // The other side of a level shifter is pulled down with this one.
      const shifter = look.on(net).find(({ pin }) => /^[HL]V\d$/.test(pin.name));
      const twin =
        shifter &&
        `${shifter.part.ref}.${(shifter.pin.name[0] === 'H' ? 'L' : 'H') + shifter.pin.name.slice(1)}`;
      const far = twin === undefined ? undefined : look.netOf.get(twin);
      const limits = look
        .on(net)
        .flatMap(({ pin, part }) => (part === shifter?.part ? [] : (pin.limitMa ?? [])));
      return {
        net: net.name,
        riseNs: 0.8473 * ohms * pf * 1e-3,
        sinkMa: pullMa(look, net) + (far ? pullMa(look, far) : 0),
        limitMa: Math.min(...limits),
      };
    });
}

function loadFindings(circuit: Circuit): string[] {
  const over = (what: string, load: number, limit: number, unit = 'mA') =>
    load > limit ? [`${what}: ${load.toFixed(1)} ${unit}, allowed ${limit} ${unit}.`] : [];
  return [
    ...railLoads(circuit).flatMap(({ source, loadMa, limitMa }) => over(`${source} gives`, loadMa, limitMa)),
    ...outputLoads(circuit).flatMap(({ pin, loadMa, limitMa }) => over(`${pin} gives`, loadMa, limitMa)),
    ...busSides(circuit).flatMap(({ net, riseNs, sinkMa, limitMa }) => [
      ...over(`${net} rises in`, riseNs, RISE_NS, 'ns'),
      ...over(`${net} is pulled down with`, sinkMa, limitMa),
    ]),
  ];
}

/** @returns what is wrong with the circuit, a sentence each; nothing when all is well */
export function circuitFindings(circuit: Circuit): string[] {
  const look = new Lookup(circuit);
  return [...pinFindings(look), ...levelFindings(look), ...supplyFindings(look), ...loadFindings(circuit)];
}
