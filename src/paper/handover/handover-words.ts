/** Texts of the sheet for the next shift. */
export interface HandoverWords {
  title: string;
  cot: (name: string) => string;
  columns: readonly [time: string, taken: string, left: string, until: string, by: string, note: string];
  noFeeds: string;
  milk: string;
  milkLine: (label: string, amount: string, until: string) => string;
  leftOver: string;
  passed: string;
  breast: string;
  refused: string;
  notes: string;
  foot: string;
  trail: (mark: string) => string;
}

export const HANDOVER_WORDS: Record<'en' | 'es', HandoverWords> = {
  en: {
    title: 'For the next shift',
    cot: (name) => `Cot ${name}`,
    columns: ['Time', 'Taken', 'Left over', 'Use left-over by', 'Fed by', 'Notes'],
    noFeeds: 'No feed in this shift.',
    milk: 'Milk on hand',
    milkLine: (label, amount, until) => `${label}: ${amount}, use by ${until}`,
    leftOver: 'left over from a feed',
    passed: 'time has passed',
    breast: 'at the breast',
    refused: 'offered, not taken',
    notes: 'Notes of this shift',
    foot: 'Amounts are estimates. Times are published ones or your house’s own rule; rules of the place come first. Babies are not compared, and none needs to finish a bottle.',
    trail: (mark) =>
      `The list of who looked and changed stands at ${mark}. Keep this sheet: it shows whether that list was cut off later.`,
  },
  es: {
    title: 'Para el turno siguiente',
    cot: (name) => `Cuna ${name}`,
    columns: ['Hora', 'Tomado', 'Sobró', 'Usar lo que sobró antes de', 'Quién alimentó', 'Notas'],
    noFeeds: 'Ninguna toma en este turno.',
    milk: 'Leche disponible',
    milkLine: (label, amount, until) => `${label}: ${amount}, usar antes de ${until}`,
    leftOver: 'sobró de una toma',
    passed: 'ya pasó el tiempo',
    breast: 'al pecho',
    refused: 'ofrecido, no tomado',
    notes: 'Notas de este turno',
    foot: 'Las cantidades son estimaciones. Los tiempos son los publicados o la regla de su lugar; las reglas del lugar van primero. No se compara a los bebés, y ninguno tiene que terminar un biberón.',
    trail: (mark) =>
      `La lista de quién miró y cambió está en ${mark}. Guarde esta hoja: muestra si más tarde se recortó esa lista.`,
  },
};
