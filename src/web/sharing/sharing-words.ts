/** Texts of the page that shares the feed with a device of the home network. */
import type { Language } from '../../pacing/cues/words.ts';
import type { Right } from '../../server/rights.ts';

export interface SharingWords {
  title: string;
  intro: string;
  off: string;
  notHere: string;
  /** Heading of the buttons that make a code, one for each right. */
  make: string;
  /** Who may do it, at the start of a sentence. */
  thatOne: string;
  /** What a device may do. */
  rights: Record<Right, string>;
  scan: string;
  left: (sec: number) => string;
  noCode: string;
  codeName: string;
  devices: string;
  none: string;
  device: (number: number, sinceSec: number) => string;
  putOut: (number: number) => string;
  withdraw: string;
  plainHttp: string;
}

const minutes = (sec: number): number => Math.max(1, Math.round(sec / 60));

export const SHARING_WORDS: Record<Language, SharingWords> = {
  en: {
    title: 'Share in the home',
    intro:
      'Another device in your home network can show this page, once it has scanned the code below. Nobody else gets in, and nothing leaves the network.',
    off: 'Sharing is off. To turn it on, start Ebbline with: ebbline start --share',
    notHere: 'Only the computer that runs Ebbline can share the page.',
    make: 'Make a new code for a device. It:',
    thatOne: 'It',
    rights: {
      watch: 'can watch',
      help: 'can help: burped, cues off, notes',
      owner: 'can do all but share and delete',
    },
    scan: 'Scan this with the device’s camera.',
    left: (sec) => `It works once, for ${minutes(sec)} more min.`,
    noCode: 'There is no code at the moment.',
    codeName: 'Code for one device',
    devices: 'Devices that show this page',
    none: 'None but this computer.',
    device: (number, sinceSec) => `Device ${number}, for ${minutes(sinceSec)} min`,
    putOut: (number) => `Put out device ${number}`,
    withdraw: 'Withdraw the code and put out all',
    plainHttp:
      'The connection is not encrypted (plain http): whoever can listen in on your network can read it. Share on a network that you trust.',
  },
  es: {
    title: 'Compartir en casa',
    intro:
      'Otro aparato de la red de su casa puede mostrar esta página, tras escanear el código de abajo. Nadie más entra y nada sale de la red.',
    off: 'No se comparte. Para compartir, inicie Ebbline con: ebbline start --share',
    notHere: 'Solo la computadora donde corre Ebbline puede compartir la página.',
    make: 'Hacer un código nuevo para un aparato, que:',
    thatOne: 'El aparato',
    rights: {
      watch: 'puede mirar',
      help: 'puede ayudar: eructó, sin avisos, notas',
      owner: 'puede todo menos compartir y borrar',
    },
    scan: 'Escanéelo con la cámara del aparato.',
    left: (sec) => `Sirve una vez, durante ${minutes(sec)} min más.`,
    noCode: 'Ahora no hay ningún código.',
    codeName: 'Código para un aparato',
    devices: 'Aparatos que muestran esta página',
    none: 'Solo esta computadora.',
    device: (number, sinceSec) => `Aparato ${number}, desde hace ${minutes(sinceSec)} min`,
    putOut: (number) => `Sacar el aparato ${number}`,
    withdraw: 'Retirar el código y sacar a todos',
    plainHttp:
      'La conexión no va cifrada (http simple): quien pueda escuchar en su red puede leerla. Comparta en una red de confianza.',
  },
};
