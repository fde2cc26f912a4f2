/** The schema of a person to call: name and phone number. */
import { z } from 'zod';

/** One line of text that must be filled in. @param most characters */
export const line = (most: number) =>
  z.string().trim().min(1, 'must not be empty').max(most, `must be at most ${most} characters`);

export const personSchema = z.strictObject({
  name: line(40),
  phone: line(30),
});

export type Person = z.infer<typeof personSchema>;
