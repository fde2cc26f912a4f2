export const stopGapMm = (): number => 0.125;
