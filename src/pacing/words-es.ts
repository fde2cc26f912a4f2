/** Spanish, neutral. The sources are those of the English texts. */
import type { Words } from './words.ts';

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
      more: 'Si no eructa en unos minutos, continúe.',
    },
    'switch-side': {
      glance: 'Cambie de brazo',
      say: 'En esta pausa, pase al bebé al otro brazo.',
      more: 'Después ofrezca de nuevo. Siga solo si el bebé quiere.',
    },
    'offer-stop': {
      glance: 'Mire al bebé',
      say: '¿Boca cerrada? ¿Gira la cabeza? ¿Manos abiertas? Entonces es hora de parar.',
      more: 'No hace falta que termine. Si cuesta despertarlo o moja menos pañales de lo habitual, llame a su profesional de salud.',
    },
    gentle: {
      glance: 'Ritmo suave',
      say: 'No hay nada que hacer.',
      more: 'Mire al bebé, no la funda.',
    },
    'cannot-tell': {
      glance: 'No se puede medir',
      say: 'No se puede saber a qué ritmo sale la leche. Guíese por el bebé.',
      more: 'Sujete el biberón por la funda, con el agarre hacia abajo.',
    },
    'no-guidance': {
      glance: 'Sin guía',
      say: 'No llega nada de la funda. Guíese por el bebé.',
      more: 'Puede seguir alimentando. Haga una pausa cuando el bebé la haga.',
    },
    'guidance-off': {
      glance: 'Guía en pausa',
      say: 'Usted puso los avisos en pausa. Guíese por el bebé.',
      more: 'La leche se sigue midiendo.',
    },
    waiting: {
      glance: 'Todo listo',
      say: 'A la espera de la primera succión.',
      more: 'Bebé erguido, biberón casi horizontal, con la leche justa para cubrir el orificio.',
    },
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
  caution:
    'Ebbline es un prototipo: no es un dispositivo médico ni una alarma. Mire al bebé, no la funda. Lo que diga su profesional de salud y las normas del lugar van primero.',
};
