/** Spanish, neutral; regional words (from memory) are added where the hold is first described. The sources are those of the English texts. */
import type { Words } from './words-en.ts';

export const WORDS_ES: Words = {
  shown: {
    'tilt-down': {
      glance: 'Baje la mano',
      say: 'Baje la mano: la base del biberón hacia abajo, la tetina sigue en la boca.',
      more: 'La leche sale rápido. Mantenga bajo el biberón hasta que el bebé vuelva a succionar.',
    },
    burp: {
      glance: 'Sacar el aire',
      say: 'Buen momento para que eructe: tetina fuera, biberón en alto, bebé erguido.',
      more: 'Si no eructa en unos minutos, también está bien.',
    },
    'last-burp': {
      glance: 'Eructo, luego mire',
      say: 'Tetina fuera, bebé erguido. Mire al bebé.',
      more: 'Quizá necesite descansar. Si no eructa, también está bien.',
    },
    'switch-side': {
      glance: 'Cambie de brazo',
      say: 'En una pausa, pase al bebé al otro brazo.',
      more: 'El bebé decide si bebe más.',
    },
    'offer-stop': {
      glance: 'Mire al bebé',
      say: '¿Boca cerrada? ¿Gira la cabeza? ¿Manos abiertas? Entonces es hora de parar.',
      more: 'No hace falta que termine. Si cuesta despertarlo o moja menos pañales de lo habitual, llame a su profesional de salud.',
    },
    'keep-low': {
      glance: 'Manténgalo bajo',
      say: 'Mantenga bajo el biberón hasta que vuelva a succionar; tetina en la boca.',
      more: 'La leche sigue saliendo rápido. El bebé necesita tiempo para tragar y respirar.',
    },
    'nipple-out': {
      glance: 'Saque la tetina',
      say: 'Deje que el bebé respire, sentado. Espere a que respire con facilidad.',
      more: 'Si sale rápido con el biberón horizontal, revise la tetina: quizá una de flujo lento.',
    },
    'breath-pause': {
      glance: 'Un breve descanso',
      say: 'Un descanso para respirar: base del biberón hacia abajo, tetina en la boca.',
      more: 'Manténgalo bajo hasta que el bebé vuelva a succionar.',
    },
    'lower-is-fine': {
      glance: 'Más bajo está bien',
      say: 'Con el biberón más bajo, la leche también cubre el orificio.',
      more: 'Casi horizontal es suficiente.',
    },
    'hole-dry': {
      glance: 'Orificio sin leche',
      say: 'Si el bebé succiona, suba un poco la base del biberón.',
      more: 'En una pausa, el aire en la tetina no importa.',
    },
    'little-coming': {
      glance: 'Revise la tetina',
      say: 'El bebé se esfuerza y sale poca leche: revise la tetina y la válvula.',
      more: 'Primero haga una pausa. ¿Tetina doblada, orificio tapado, rosca muy apretada?',
    },
    'fast-nipple': {
      glance: '¿Tetina más lenta?',
      say: 'Con el biberón horizontal sale rápido: revise la tetina, quizá una más lenta.',
      more: 'El nombre del envase no dice a qué ritmo sale la leche.',
    },
    'long-feed': {
      glance: 'Una toma larga',
      say: 'El bebé puede estar cansado. Está bien parar aquí.',
      more: 'Si la mayoría de las tomas son así, consulte a su profesional de salud.',
    },
    'asleep-early': {
      glance: 'Dormido pronto',
      say: 'Deje que descanse. Cada cuánto despertarlo lo dice su profesional de salud.',
      more: 'Tener sueño no es estar lleno. Si cuesta despertarlo o moja menos pañales de lo habitual, llame a su profesional de salud.',
    },
    'hold-upright': {
      glance: 'Bebé erguido',
      say: 'Sostenga al bebé erguido un rato.',
      more: 'Lo habitual son diez minutos o un poco más.',
    },
    'hunger-again': {
      glance: 'Mire de nuevo',
      say: '¿Despierto y con hambre? ¿Manos a la boca, chasquea, la busca?',
      more: '¿No está claro? Entonces no hay prisa. Si duerme, déjelo dormir.',
    },
    gentle: {
      glance: 'Ningún aviso ahora',
      say: 'Mire al bebé, no la funda.',
      more: 'Haga una pausa cuando el bebé la haga.',
    },
    'held-steeply': {
      glance: 'Muy inclinado',
      say: 'Así inclinado, la leche sale más rápido. Casi horizontal es suficiente.',
      more: 'Si le enseñaron otra manera de sostenerlo, esa va primero.',
    },
    'cannot-tell': {
      glance: 'No se puede medir',
      say: 'No se puede saber a qué ritmo sale la leche. Guíese por el bebé.',
      more: 'Sujete el biberón por la funda, con el agarre hacia abajo.',
    },
    'no-guidance': {
      glance: 'Sin guía',
      say: 'No llega nada de la funda. Guíese por el bebé.',
      more: 'Haga una pausa cuando el bebé la haga.',
    },
    'guidance-off': {
      glance: 'Avisos apagados',
      say: 'Usted apagó los avisos. Guíese por el bebé.',
      more: 'Vuelven a los diez minutos o con la próxima toma.',
    },
    'cues-withheld': {
      glance: 'Toma de estudio',
      say: 'Los avisos se guardan, no se muestran.',
      more: 'Guíese por el bebé y las señales de estrés.',
    },
    waiting: {
      glance: 'Todo listo',
      say: 'A la espera de la primera succión.',
      more: 'Bebé erguido, biberón (mamadera, tetero) casi horizontal, con la leche justa para cubrir el orificio de la tetina (chupón, chupo).',
    },
  },
  because: {
    'tilt-down':
      '{sinceMl} en {overSec}, unos {flowMlPerMin} mL/min: {aheadMl} por delante de {rateMlPerMin} mL/min.',
    'tilt-down-in-doubt':
      '{sinceMl} en {overSec}, unos {flowMlPerMin} mL/min: {aheadMl} por delante de {rateMlPerMin} mL/min, aunque la estimación era mala.',
    burp: '{sinceMl} desde el último eructo o aviso de eructo; {pauseSec}.',
    'burp-without-pause': '{sinceMl} desde el último eructo o aviso de eructo; no hubo pausa.',
    'burp-half-way': 'Primera pausa pasada la mitad, {pauseSec}.',
    'burp-at-the-end': 'El final de la toma: La tetina se ofreció {refusals} veces seguidas y no se tomó.',
    'switch-side': 'Primera pausa pasado el momento del cambio: {takenMl} tomados, {pauseSec}.',
    'switch-side-by-time': 'Primera pausa tras {feedSec} en un lado, {pauseSec}.',
    refused: 'La tetina se ofreció {refusals} veces seguidas y no se tomó.',
    faded:
      '{sucks} succiones en los últimos {windowSec} con la tetina ofrecida; antes, unas {sucksPerMin} por minuto.',
    'asleep-early':
      '{sucks} succiones en los últimos {windowSec} con la tetina ofrecida; antes, unas {sucksPerMin} por minuto; {feedSec} desde el inicio de la toma.',
    'breath-pause': '{sucks} succiones sin pausa.',
    'lower-is-fine': 'Inclinado a {tiltDeg}°; la leche cubre el orificio desde {coverTiltDeg}°.',
    'hole-dry': 'La leche queda {depthMm} mm bajo el orificio mientras el bebé succiona.',
    'little-coming': '{sucks} succiones en {activeSec} de succión activa dieron {takenMl:1} mL.',
    'fast-nipple':
      '{pours} veces salió la leche demasiado rápido con el biberón casi horizontal, ahora a {tiltDeg}°.',
    'long-feed': '{feedSec} desde la primera succión.',
    after: 'Tetina fuera durante {outSec} tras «mire al bebé».',
  },
  pause: { without: '{seconds} s sin succión', noSuck: 'no se vio succión' },
  switches: {
    suckRhythm: 'Un breve descanso tras muchas succiones seguidas',
    otherSideByWeight: 'Cambiar de brazo a la mitad según el peso de la leche, si no se anotó la cantidad',
    otherSideByTime: 'Cambiar de brazo tras unos minutos',
    cover: 'Si la leche cubre el orificio de la tetina',
    littleComing: 'Cuando el bebé se esfuerza y sale poco',
    fastNipple: 'Cuando la leche sale rápido aunque el biberón esté horizontal',
    longFeed: 'Cuando una toma se alarga',
    after: 'Después de la toma: en brazos erguido, mirar si vuelve el hambre (en silencio)',
  },
  stressCard: {
    title: 'Pare y siente erguido al bebé si ve:',
    signs: [
      'leche que se derrama de la boca',
      'ojos muy abiertos',
      'dedos separados y extendidos',
      'brazos o piernas rígidos',
      'aletas de la nariz dilatadas',
      'una mueca',
      'tragos apresurados',
      'atragantamiento',
    ],
    act: [
      'Saque la tetina.',
      'Siente erguido al bebé.',
      'Espere a que esté tranquilo y respire con facilidad.',
    ],
    emergency: 'Labios azules o no respira: llame ya a emergencias (911 en EE. UU.).',
    notWatched: 'La funda no vigila estas señales. Las ven sus ojos.',
  },
  quiet: {
    quieter:
      'Ahora hay menos avisos: las últimas tomas necesitaron pocos. Vuelven solos si una toma necesita más.',
    quietest:
      'Ahora casi no hay avisos: las últimas tomas casi no los necesitaron. Vuelven solos si una toma necesita más.',
  },
  screening: {
    intro:
      'Se pregunta una vez por bebé. Algunos bebés necesitan un ritmo que solo un profesional de salud puede fijar.',
    cuesOff:
      'Los avisos de «más despacio» y «suficiente» están apagados para este bebé hasta que se introduzca el plan de su profesional de salud. La funda sigue midiendo. Alimente como le enseñaron.',
    notScreened:
      'Los avisos de «más despacio» y «suficiente» están apagados: las siete preguntas sobre este bebé aún no tienen respuesta. En «Antes de la toma», elija o añada al bebé y contéstelas una vez. La funda sigue midiendo. Alimente como le enseñaron.',
    withPlan: 'Los avisos siguen el plan que le dio su profesional de salud.',
  },
  caution:
    'Ebbline es un prototipo: no es un dispositivo médico ni una alarma. Mire al bebé, no la funda. Lo que diga su profesional de salud y las normas del lugar van primero.',
};
