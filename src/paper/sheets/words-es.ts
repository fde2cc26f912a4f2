/** Spanish, neutral; regional words (from memory) where the hold is told. The sources are those of the English texts. */
import type { PrintedWords } from './words.ts';

export const PRINTED_WORDS_ES: PrintedWords = {
  title: 'Cómo darme de comer',
  lead: 'El bebé guía. Usted sostiene, observa y espera. No hace falta que termine el biberón.',
  flOz: 'fl oz',
  hold: {
    heading: 'Postura',
    lines: [
      'Bebé sentado, con la cabeza y el cuello sostenidos.',
      'Biberón (mamadera, tetero) casi horizontal: la leche justa para cubrir el orificio.',
      'Toque los labios con la tetina (chupón, chupo). Espere a que abra la boca.',
    ],
  },
  pace: {
    heading: 'Ritmo',
    lines: [
      '¿Deja de succionar? Baje la base del biberón; la tetina sigue en la boca. Espere.',
      '¿Vuelve a succionar? Otra vez horizontal.',
    ],
    ownMinutes: (low, high) =>
      `Mis tomas suelen durar ${low === high ? `unos ${low}` : `de ${low} a ${high}`} minutos. Menos o más también está bien.`,
    leafletMinutes: 'Los folletos dicen de 10 a 30 minutos. Menos o más también está bien.',
  },
  burp: {
    heading: 'Sacar el aire',
    every: (amount) =>
      `Una pausa más o menos cada ${amount}, o cuando el bebé se inquiete. Antes también está bien.`,
    halfWay: 'Una pausa a la mitad y al final, o cuando el bebé se inquiete. Antes también está bien.',
    lines: ['¿No eructa en unos minutos? Continúe. Después, erguido de 10 a 15 minutos.'],
  },
  bottles: {
    heading: 'Cantidad',
    usual: (range) => `Suelo tomar ${range} por toma. Menos está bien. Más está bien.`,
    feeds: (sizes) => `Uno para cada toma: ${sizes}.`,
    topUps: (sizes) => `Pequeños, solo si aún pido: ${sizes}.`,
    spare: {
      last: (size) => `Reserva, ${size}: ábrala al final, si aún pido.`,
      'kept-apart': (size) => `Reserva, ${size}: llame antes de abrirla.`,
    },
    unknown: 'Empiece con poco, 2 fl oz (60 mL). Añada un poco si aún pido.',
  },
  hungry: {
    heading: 'Tiene hambre',
    lines: [
      'Manos a la boca. Busca el biberón. Chasquea o se lame los labios. El llanto llega tarde: ofrezca antes.',
    ],
  },
  full: {
    heading: 'Está lleno',
    lines: ['Cierra la boca. Gira la cabeza. Abre y relaja las manos. Entonces pare, quede lo que quede.'],
  },
  leftovers: {
    heading: 'Lo que sobra',
    rules: {
      expressed:
        'Leche materna: tírela 1 hora después de que el bebé empezó a beber (NHS); 2 horas después de terminar la toma es el tiempo de los CDC.',
      formula: 'Fórmula: tírela después de la toma; como máximo 1 hora desde el comienzo (CDC).',
      mixed:
        'Leche mezclada, como la fórmula: tírela después de la toma; como máximo 1 hora desde el comienzo (CDC).',
    },
  },
  notesHeading: 'Además',
  light: {
    heading: 'Qué significa la luz de la funda',
    signs: {
      'tilt-down': {
        looks: 'Naranja, brillos largos',
        means: 'Baje la mano: la base del biberón hacia abajo.',
      },
      burp: { looks: 'Pálida, dos brillos cortos', means: 'Buen momento para que eructe.' },
      'switch-side': { looks: 'Azul, uno largo y uno corto', means: 'Cambie de brazo en esta pausa.' },
      'offer-stop': { looks: 'Violeta, fija', means: 'Mire al bebé: ¿está lleno?' },
      'cannot-tell': {
        looks: 'Tenue, un parpadeo a veces',
        means: 'No se puede medir. Guíese por el bebé.',
      },
    },
    note: '¿Sin luz o sin funda? No se pierde nada: guíese por el bebé.',
  },
  stop: {
    heading: 'Pare y siente erguido al bebé si ve',
    signs:
      'leche que se derrama de la boca, ojos muy abiertos, dedos separados, brazos o piernas rígidos, nariz dilatada, tragos apresurados, atragantamiento.',
    act: 'Saque la tetina. Espere a que esté tranquilo y respire con facilidad.',
    emergency: 'Labios azules o no respira: llame ya al 911.',
  },
  reachHeading: '¿Preguntas? Llame a',
  caution:
    'Las normas de su centro y el profesional de salud del bebé van primero. Ebbline es un prototipo: no es un dispositivo médico ni una alarma. Mire al bebé, no la funda.',
  sources:
    'Fuentes: hambre, saciedad, tiempos de la leche: CDC, NHS (citado por otros). Eructos: la AAP dice cada 2 a 3 fl oz (60 a 90 mL); más a menudo, práctica común, sin fuente. Postura, pausas, minutos: folletos sobre biberón pausado (Indiana WIC; Women & Infants Hospital; páginas del NHS según UNICEF UK); no coinciden en los minutos, y el margen abarca ambos. Tamaños: práctica común, sin fuente.',
  sheet: {
    title: 'Las tomas de hoy',
    baby: 'Bebé',
    day: 'Fecha',
    columns: [
      'Hora',
      'Leche',
      'Ofrecido (fl oz o mL)',
      'Sobró',
      'Tomado',
      'Minutos',
      'Regurgitó, ánimo, notas',
      'Iniciales',
    ],
    milk: { expressed: 'M', formula: 'F', mixed: 'X' },
    withSleeve: 'funda',
    kinds: { breast: 'al pecho', refused: 'apenas tomado' },
    earlier: (count) =>
      count === 1
        ? 'Una toma anterior de este día no cupo aquí.'
        : `${count} tomas anteriores de este día no cupieron aquí.`,
    notes: [
      'Anote cada toma, con la funda o sin ella. Un biberón rechazado también cuenta: 5 mL ya es un buen intento.',
      'M leche materna, F fórmula, X mezclada. «Tomado» es lo ofrecido menos lo que sobró.',
      '¿Lo rechaza tres veces, o durante diez minutos? Descanse y pruebe más tarde (práctica común, sin fuente).',
    ],
    remarks: 'Para la familia',
    signature: 'Nombre y firma',
  },
};
