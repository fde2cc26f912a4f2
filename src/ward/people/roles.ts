/** Roles and rights on a ward. Pure. Pages hide what a role may not do. */

export const ROLES = ['hold', 'lead', 'parent', 'researcher'] as const;
export type Role = (typeof ROLES)[number];

/**
 * `board`: see the running feeds of a room. `bind`: scan labels, fill bottles, hand a shift over. `arrange`: children, labels, consents.
 * `trail`: read who looked and changed. `own-child`: see the own child's feeds. `coded`: see coded feeds of children whose families take part.
 */
const ACTS = ['board', 'bind', 'arrange', 'trail', 'own-child', 'coded'] as const;
export type Act = (typeof ACTS)[number];

const MAY: Record<Role, readonly Act[]> = {
  hold: ['board', 'bind'],
  lead: ['board', 'bind', 'arrange', 'trail'],
  parent: ['own-child'],
  researcher: ['coded'],
};

/** Somebody who signed in. */
export interface Person {
  /** The provider's identifier of the person; it never changes. */
  id: string;
  /** Name for people. */
  name: string;
  roles: readonly Role[];
}

/** @returns the role that allows it, or null */
export const roleFor = ({ roles }: Pick<Person, 'roles'>, act: Act): Role | null =>
  ROLES.find((role) => roles.includes(role) && MAY[role].includes(act)) ?? null;

export const actsOf = (person: Pick<Person, 'roles'>): Act[] =>
  ACTS.filter((act) => roleFor(person, act) !== null);

/** @returns the roles among what a provider claims; unknown ones are ignored */
export const rolesOf = (claimed: unknown): Role[] => {
  const names = Array.isArray(claimed) ? claimed : typeof claimed === 'string' ? claimed.split(/[\s,]+/) : [];
  return ROLES.filter((role) => names.includes(role) || names.includes(`ebbline-${role}`));
};

/** Consent that a person may see data of a child, with its period. */
export interface Allowed {
  babyId: string;
  what: 'parent' | 'research';
  person: string | null;
  fromMs: number;
  untilMs: number | null;
}

const holds = ({ fromMs, untilMs }: Allowed, nowMs: number): boolean =>
  fromMs <= nowMs && (untilMs === null || untilMs > nowMs);

/** @returns the children that this parent may see now */
export const childrenOf = (
  person: Pick<Person, 'id'>,
  allowed: readonly Allowed[],
  nowMs: number,
): string[] => [
  ...new Set(
    allowed
      .filter((one) => one.what === 'parent' && one.person === person.id && holds(one, nowMs))
      .map(({ babyId }) => babyId),
  ),
];

/** @returns the children whose families take part in research now */
export const inResearch = (allowed: readonly Allowed[], nowMs: number): string[] => [
  ...new Set(
    allowed.filter((one) => one.what === 'research' && holds(one, nowMs)).map(({ babyId }) => babyId),
  ),
];
