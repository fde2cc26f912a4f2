/** @returns "1 feed", "2 feeds", "no feeds" */
export const counted = (count: number, one: string, more = `${one}s`): string =>
  `${count === 0 ? 'no' : count.toLocaleString('en-US')} ${count === 1 ? one : more}`;
