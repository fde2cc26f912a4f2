/** Places where milk may be. */
/** `cooler`: insulated, with frozen ice packs. `sleeve`: in a bottle in the sleeve, which neither cools nor warms. */
export const PLACES = ['room', 'cooler', 'fridge', 'freezer', 'deep-freezer', 'sleeve'] as const;
export type Place = (typeof PLACES)[number];

export const isFrozen = ({ place }: { place: Place }): boolean =>
  place === 'freezer' || place === 'deep-freezer';
