/** Noise by how long one averages. Pure. */

/**
 * Overlapping Allan deviation of averages that follow each other without a gap (definition: NIST SP 1065, Handbook of Frequency
 * Stability Analysis, section 5.2.4, written here for averages instead of phases).
 * @param averages equally long, in order @param over how many of them make one longer average
 * @returns in the unit of the averages; NaN when there are fewer than two longer averages
 */
export function allanDeviation(averages: readonly number[], over: number): number {
  const sums = [0];
  for (const average of averages) sums.push(sums[sums.length - 1]! + average);
  let [squares, count] = [0, 0];
  for (let at = 0; at + 2 * over < sums.length; at++) {
    const change = (sums[at + 2 * over]! - 2 * sums[at + over]! + sums[at]!) / over;
    squares += change * change;
    count++;
  }
  return count === 0 ? Number.NaN : Math.sqrt(squares / (2 * count));
}
