/** Spanish, neutral. */
import { MILK_WORDS_ES } from './milk-words-es.ts';
import type { PackingWords } from './words.ts';

const tenth = (value: number): string => String(Math.round(10 * value) / 10);
const own = (share: number): string => `${Math.round(100 * share)} %`;

export const PACKING_WORDS_ES: PackingWords = {
  title: 'Preparar los biberones',
  intro: 'Suficiente para las horas fuera, y que se tire lo menos posible.',
  day: 'Día',
  from: 'Fuera desde',
  until: 'hasta',
  feeds: 'Tomas que se perderá',
  feedsFrom: { asked: 'como usted indicó', kept: 'como la mayoría de los días', hours: 'una cada 3 horas' },
  fewer: 'Una menos',
  more: 'Una más',
  baby: 'Bebé',
  born: 'Nació el',
  bornHint: 'La cantidad depende de la edad del bebé.',
  milkOnHand: (fridge, freezer) => `Hay ${fridge} en el refrigerador y ${freezer} en el congelador.`,
  noMilk: 'Aún no hay leche en la lista.',
  toMilk: 'Lista de leche',
  pack: (count) => (count === 1 ? 'Lleve 1 biberón' : `Lleve ${count} biberones`),
  roles: {
    feed: 'uno para cada toma',
    'top-up': 'solo si el bebé aún pide',
    spare: 'reserva: se abre al final',
  },
  spareApart: 'reserva: antes la llaman',
  expected: (thrown, days) => `Se tirarán unos ${thrown}. No alcanza en ${days}.`,
  days: (of100) => `${of100} de 100 días`,
  underOneDay: 'menos de 1 de 100 días',
  limited: {
    milk: ({ onHand, days }) =>
      `Es lo que alcanza con los ${onHand} que hay; faltaría en ${days}. Si pasa, quien alimenta la llama o da lo que acordaron. No hace falta extraerse leche por un número.`,
    'rule-of-thumb': ({ days }) =>
      `Puede faltar en ${days}, más a menudo de lo que usted fijó: aún se sabe poco de este bebé y la bolsa se queda en la regla práctica. Tras unos biberones será más exacto.`,
    bottles: ({ days }) =>
      `Puede faltar en ${days}, más a menudo de lo que usted fijó, con los biberones que permite.`,
  },
  ruleOfThumb: (range) =>
    `Quien se extrae leche suele contar de 1 a 1½ fl oz por hora fuera, aquí ${range} (práctica común, sin fuente).`,
  whyThis: (thrown, days) =>
    `Por qué estos: con un biberón menos se tirarían unos ${thrown} y faltaría en ${days}.`,
  choices: 'Lado a lado',
  gates: {
    'under-six-weeks':
      'Antes de las seis semanas los bebés cambian de un día a otro y toman cada vez más. Pregunte a su partera, asesora de lactancia o pediatra cuánto dejar.',
    'born-early':
      'Nació antes de tiempo: la curva es de bebés nacidos a término. Para las cantidades y para guardar la leche vale el plan de su equipo de salud.',
    'slow-to-gain':
      'Aumenta poco de peso: la cantidad la indica su profesional de salud, y no conviene ofrecer menos por ahorrar leche.',
    ill: 'Un bebé que no está bien puede querer mucho menos, o más seguido. Pregunte a su profesional de salud; ofrezca y deje decidir al bebé.',
    'past-six-months':
      'Desde los seis meses más o menos la mayoría come también sólidos, y muchos toman menos leche. Guíese por lo que tomó últimamente.',
  },
  nippleRuns: (name) =>
    `La tetina «${name}», según se midió, da leche más rápido que el ritmo por sí sola: mejor mande otra.`,
  noClaim:
    'Por eso aquí no se dice con qué frecuencia faltaría. Los tiempos de la leche valen igual, y lo que este bebé tomó también.',
  packedPlainly: (thrown) => `Quizá se tiren unos ${thrown}.`,
  ill: 'El bebé no está bien',
  seen: ({ emptied, refused, poured }) =>
    [
      emptied > 0
        ? `${emptied} ${emptied === 1 ? 'volvió vacío' : 'volvieron vacíos'}: eso dice «al menos esto».`
        : '',
      refused > 0
        ? `${refused} ${refused === 1 ? 'se rechazó y no dice' : 'se rechazaron y no dicen'} cuánto toma el bebé.`
        : '',
      poured > 0
        ? `${poured} ${poured === 1 ? 'salió más rápido que la franja y cuenta' : 'salieron más rápido que la franja y cuentan'} menos: no es lo que quería.`
        : '',
    ]
      .filter(Boolean)
      .join(' '),
  sameHours: 'Solo se usaron los biberones dados en estas horas; son suficientes.',
  record: ({ days, promisedShort, realisedShort }, thrown, promised) =>
    `De ${days} días calculados faltó en ${realisedShort}; según los planes serían ${tenth(promisedShort)}. Se tiraron ${thrown}, calculado ${promised}. Los planes nuevos lo tienen en cuenta.`,
  thawTonight: (ids, when) =>
    `Para descongelar: pase ${ids} del congelador al refrigerador antes del ${when}. Tarda unas 12 horas.`,
  take: 'Elegir este plan',
  taken: 'Elegido. Su leche queda reservada y ningún otro plan la usa.',
  larger: 'Hay biberones mayores que el habitual; sin ellos faltaría leche demasiado a menudo.',
  spareMissing: 'Con la leche que hay no alcanza para la reserva.',
  asIfEnough: 'Calculado como si hubiera leche suficiente: no hay ninguna en la lista.',
  fill: 'Llénelos con',
  filled: 'Llenos: anotarlo en la lista de leche',
  filledNow: 'Ya está en la lista de leche, una etiqueta por biberón.',
  rest: (amount, id) => `Quedan ${amount} en ${id}.`,
  thawed: (amount) =>
    `Se descongelan ${amount}: según lo publicado, 24 horas una vez descongelada; nunca volver a congelar (CDC).`,
  left: {
    'held-back': 'apartado',
    'time-passes': 'un tiempo publicado, o del centro, ya pasó o pasa antes de su regreso',
    'size-fits-less': 'otro tamaño desperdicia menos',
    'comes-later': 'no hace falta, otros van primero',
  },
  stays: (ids, why) => `${ids}: ${why}.`,
  trouble: 'No se calcularon biberones.',
  portion: 'Cuánto',
  perFeed: (range) => `Una toma: ${range}, en 8 de 10 tomas.`,
  total: (range) => `En total: ${range}, en 8 de 10 días.`,
  basis: ({ bottleFeeds, bottleDays, ownShare }) =>
    bottleFeeds === 0
      ? 'Solo de la curva publicada para esta edad: aún no hay tomas guardadas, por eso el margen es amplio.'
      : `De ${bottleFeeds} tomas con biberón en ${bottleDays} días (${own(ownShare)} de la respuesta); el resto, de la curva publicada para esta edad.`,
  size: ({ because, days }, size) =>
    ({
      first: `Empiece con biberones de hasta ${size}. Otro tamaño solo tras 4 días de cambio.`,
      unchanged: `Siga con biberones de hasta ${size}. Otro tamaño solo tras 4 días de cambio.`,
      more: `En cada uno de los últimos ${days} días el bebé tomó más: pruebe ${size}.`,
      less: `En cada uno de los últimos ${days} días el bebé tomó menos: pruebe ${size}.`,
    })[because],
  outside: 'Este ritmo queda fuera de lo que toman 95 de 100 bebés. Por sí solo no significa nada.',
  leftOut: (count) => `${count} tomas guardadas no pueden ser correctas y no se usaron.`,
  trade: 'Que falte o que se tire',
  tradeSay:
    'Cada punto de la línea es otra manera de preparar. Más a la derecha falta más a menudo; más abajo se tira menos.',
  thrownAway: 'Se tira',
  shortOn: 'Falta, de 100 días',
  way: 'Manera',
  bottles: 'Biberones',
  thisPlan: 'Este plan',
  plain: {
    'rule-of-thumb': (size) => `Regla práctica, ${size} por toma`,
    'last-week': (size) => `Lo máximo de la semana, ${size} por toma`,
  },
  otherPlans: 'Otros planes',
  mayBeShort: 'Puede faltar leche en, de 100 días',
  why: 'En qué se basa',
  assumptions: {
    'own-feeds': ({ bottleFeeds }) =>
      bottleFeeds === 0
        ? 'Aún no hay tomas con biberón de este bebé.'
        : `El ritmo propio de este bebé, de ${bottleFeeds} tomas con biberón.`,
    curve: ({ ageDays }) => `Leche al día a los ${ageDays} días de edad, mientras hay pocas tomas propias.`,
    'between-babies': () => 'Los bebés difieren mucho alrededor de esa curva.',
    'day-to-day': () => 'Los días de un mismo bebé difieren un 14 %.',
    spells: () =>
      'Algunos días seguidos el bebé quiere menos o más, como cuando está enfermo. Cada uno puede ser el último, y después de menos a menudo quiere más.',
    'feed-to-feed': () => 'Las tomas de un día difieren un tercio mientras se conocen pocas.',
    refused: () =>
      'Un biberón de hasta 10 mL cuenta como rechazado: 3 de 100, mientras no se conozcan tomas. No cuenta como poco apetito.',
    emptied: () =>
      'Un biberón que vuelve con hasta 5 mL está vacío: quería al menos eso. En algunas casas se vacían todos; también se tiene en cuenta.',
    poured: () => 'Leche que salió más rápido que la franja: pudo entrar de una a dos veces lo que quería.',
    'bottle-price': () => 'Llenar y lavar un biberón más vale algo de leche; se fija en «Normas y personas».',
    'rule-of-thumb': () => 'De 1 a 1½ fl oz por hora, mientras se conozcan menos de seis biberones propios.',
    sizes: () => 'Biberones de 2 a 4 fl oz, pequeños de 1 a 3.',
    'left-over': () => 'Lo que sobra en un biberón abierto cuenta como tirado.',
    close: () => 'Nadie abre un biberón por los últimos 2.5 mL.',
  },
  source: 'Fuente',
  print: 'Imprimir y enviar',
  feedingPlan: 'Plan de alimentación',
  daySheet: 'Hoja del día',
  sheetLanguage: 'Idioma de las hojas',
  callFirst: 'El plan de alimentación dice a quién llamar: indíquelo antes en «Normas y personas».',
  asPdf: 'PDF',
  asPage: 'Página',
  rules: 'Normas y personas',
  mostBottles: 'Biberones como máximo, con la reserva',
  twoMore: 'dos más que tomas',
  bottlePrice: 'Lavar un biberón más vale',
  bottlePrices: { none: 'Nada', usual: 'Un sorbo de leche', high: 'Una onza de leche' },
  pouring: 'Juntar leche',
  pouringChoices: { 'at-home': 'Se junta en casa', none: 'Tal como se guardó' },
  unopened: 'Biberones sin abrir',
  unopenedChoices: { 'comes-back': 'Vuelven', 'thrown-away': 'Se tiran' },
  spare: 'Biberón de reserva',
  noSpare: 'Ninguno',
  spareRule: 'La reserva se abre',
  spareRules: { last: 'Cuando no queda nada más', 'kept-apart': 'Solo tras una llamada' },
  leftoverRule: 'La norma del centro para lo que sobra en un biberón',
  leftoverHint: 'Con sus palabras; va primero en el plan de alimentación',
  centerTimes: 'Tiempos del centro, antes que los publicados',
  hours: 'Horas',
  whose: 'De quién es',
  addTime: 'Añadir un tiempo',
  remove: 'Quitar',
  call: 'A quién llaman',
  callName: 'Nombre',
  callPhone: 'Teléfono',
  orCall: 'Si nadie contesta',
  notes: 'Una línea suya para el plan de alimentación',
  keep: 'Guardar',
  kept: 'Guardado.',
  milk: MILK_WORDS_ES,
};
