/**
 * Codes of labels: nine random letters and a check letter. They carry no information about their owner; only the store has it. Pure.
 * The check character is that of ISO/IEC 7064, MOD 37,36: it detects every single wrong character and nearly all exchanged ones.
 */

/** The standard's alphabet, in its order. */
const ALL = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ';
/** The characters used: without those that look alike on a worn label (0 and O, 1, I and L, U and V). */
const DRAWN = '23456789ABCDEFGHJKMNPQRSTVWXYZ';
const BODY = 9;
const CODE = new RegExp(`^[${DRAWN}]{${BODY + 1}}$`);

/** @param body letters of the standard's alphabet @returns the check character */
export function checkCharacter(body: string): string {
  let product = 36;
  for (const letter of body) {
    const sum = (product + ALL.indexOf(letter)) % 36 || 36;
    product = (sum * 2) % 37;
  }
  return ALL[(37 - product) % 36]!;
}

/** @param random uniform random whole numbers below the given one */
export function newCode(random: (below: number) => number): string {
  for (;;) {
    const body = Array.from({ length: BODY }, () => DRAWN[random(DRAWN.length)]!).join('');
    const code = body + checkCharacter(body);
    // About one in six ends in a letter that is not used.
    if (CODE.test(code)) return code;
  }
}

/** @param text as scanned or typed @returns the code, or null if it is not one of ours */
export function readCode(text: string): string | null {
  const code = text.replaceAll(/[\s-]/g, '').toUpperCase();
  return CODE.test(code) && checkCharacter(code.slice(0, BODY)) === code.at(-1) ? code : null;
}

/** @returns "K7M2Q-9XTA4" */
export const codeForPeople = (code: string): string => `${code.slice(0, 5)}-${code.slice(5)}`;
