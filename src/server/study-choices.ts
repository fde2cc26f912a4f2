/** Route: studies and participants to choose for the next feed. */
import type { FastifyInstance } from 'fastify';
import type { StudyChoice } from '../app/study/study-feeds.ts';
import { answering } from './answering.ts';

export type GiveStudyChoices = () => StudyChoice[];

export function addStudyChoices(app: FastifyInstance, choices: GiveStudyChoices): void {
  app.get('/study/choices', (_request, reply) => answering(reply, choices));
}
