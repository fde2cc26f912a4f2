/** The person behind a request: somebody signed in, or, without a provider, the user of this computer. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { MeAnswer, Who } from '../../app/ward/ward-answers.ts';
import type { Act, Person } from '../../ward/people/roles.ts';
import type { ErrorAnswer } from '../answers.ts';

export interface People {
  /** Null: nobody signed in. */
  personOf(request: FastifyRequest): Person | null;
  roleFor(person: Person, act: Act): Who['role'] | null;
  actsOf(person: Person): Act[];
}

const refused = (code: string, message: string, remedy: string): ErrorAnswer => ({
  error: { code, message, remedy },
});
const SIGN_IN = refused('sign-in-needed', 'Nobody is signed in on this device.', 'Sign in.');
const NOT_YOURS = refused(
  'not-by-this-role',
  'Your role may not do or see that.',
  'Ask whoever leads the shift.',
);

/** @returns the person, for the audit trail; null after a refusal */
export function allowed(people: People, act: Act, request: FastifyRequest, reply: FastifyReply): Who | null {
  reply.header('cache-control', 'no-store');
  const person = people.personOf(request);
  if (!person) {
    reply.code(401).send(SIGN_IN);
    return null;
  }
  const role = people.roleFor(person, act);
  if (role === null) {
    reply.code(403).send(NOT_YOURS);
    return null;
  }
  return { person: person.id, role };
}

/** @param has  what there is besides the board */
export function addMe(
  app: FastifyInstance,
  people: People,
  has: { children: boolean; studies: boolean },
): void {
  const isThere = (act: Act): boolean => act === 'board' || (act === 'coded' ? has.studies : has.children);
  app.get('/me', async (request, reply) => {
    reply.header('cache-control', 'no-store');
    const person = people.personOf(request);
    if (!person) return reply.code(401).send(SIGN_IN);
    const acts = people.actsOf(person).filter(isThere);
    return { name: person.name, acts } satisfies MeAnswer;
  });
}

const HERE: Person = { id: 'this computer', name: '', roles: [] };
const ALL_BUT_OTHERS: readonly Act[] = ['board', 'bind', 'arrange', 'trail'];

/** Users of this computer have the rights of staff; nobody else has access. */
export const THIS_COMPUTER: People = {
  personOf: () => HERE,
  roleFor: (_person, act) => (ALL_BUT_OTHERS.includes(act) ? 'computer' : null),
  actsOf: () => [...ALL_BUT_OTHERS],
};
