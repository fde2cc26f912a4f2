/** Texts for scanning labels, for the next shift's page and for the audit trail. */
import type { Language } from '../../pacing/cues/words.ts';
import type { StopCode } from '../../ward/binding/bind.ts';
import type { LabelKind } from '../../ward/labels/label.ts';

/** Where the milk in a bottle comes from. */
export const FILL_FROM = ['list', 'expressed', 'formula'] as const;
export type FillFrom = (typeof FILL_FROM)[number];

export interface WardWords {
  board: string;
  bind: string;
  fill: string;
  handover: string;
  trail: string;
  own: string;
  studies: string;
  navigation: string;
  signIn: string;
  signInSay: string;
  /** Why somebody came back without being signed in; also for what is none of these. */
  notSignedIn: Record<'sign-in-no-role' | 'sign-in-failed', string>;
  signOut: string;
  bindSay: string;
  code: string;
  enter: string;
  again: string;
  camera: string;
  cameraOff: string;
  kinds: Record<LabelKind, string>;
  scanned: string;
  still: string;
  bound: (cot: string, sleeve: number, until: string) => string;
  filling: {
    title: string;
    say: string;
    bottle: string;
    child: string;
    from: string;
    froms: Record<FillFrom, string>;
    container: string;
    amount: string;
    fill: string;
    filled: (until: string) => string;
  };
  stop: string;
  stops: Record<StopCode, string>;
  /** On the board, put before the sentence. */
  atCot: (cot: string) => string;
  print: string;
  noFeeds: string;
  columns: readonly [time: string, taken: string, left: string, until: string, by: string, note: string];
  milk: string;
  usedBy: string;
  passed: string;
  breast: string;
  refused: string;
  whole: string;
  broken: (no: number) => string;
  release: string;
  released: string;
  trailColumns: readonly [when: string, who: string, role: string, act: string, child: string, more: string];
}

export const WARD_WORDS: Record<Language, WardWords> = {
  en: {
    board: 'Board',
    bind: 'Scan labels',
    fill: 'Fill a bottle',
    handover: 'Next shift',
    trail: 'Who looked',
    own: 'My child',
    studies: 'Studies',
    navigation: 'Pages',
    signIn: 'Sign in',
    signInSay: 'Sign in to see this.',
    notSignedIn: {
      'sign-in-no-role': 'You are known, but you have no role here. Ask whoever keeps the accounts.',
      'sign-in-failed': 'Signing in did not work. Try again.',
    },
    signOut: 'Sign out',
    bindSay:
      'Scan the child’s, the bottle’s and the sleeve’s label, in any order. With the third they are bound for the next feed.',
    code: 'Code on the label',
    enter: 'Enter',
    again: 'Start again',
    camera: 'Use the camera',
    cameraOff: 'Camera off',
    kinds: { child: 'Child', bottle: 'Bottle', sleeve: 'Sleeve' },
    scanned: 'scanned',
    still: 'still to scan',
    bound: (cot, sleeve, until) => `Bound: cot ${cot}, sleeve ${sleeve}. Use the milk by ${until}.`,
    filling: {
      title: 'Fill a bottle',
      say: 'Scan the bottle’s and the child’s label, and say what milk went in. The bottle is for this child alone until it was fed or filled again.',
      bottle: 'Code of the bottle',
      child: 'Code of the child',
      from: 'Which milk?',
      froms: {
        list: 'From the milk list',
        expressed: 'Expressed just now',
        formula: 'Formula made just now',
      },
      container: 'What stands on its lid',
      amount: 'How much',
      fill: 'Write it down',
      filled: (until) => `Written down. Use the milk by ${until}.`,
    },
    stop: 'Stop',
    stops: {
      'label-unknown': 'This is no label of this house. Do not feed. Scan it again or type its code.',
      'label-replaced': 'A newer label was printed in place of this one. Do not feed. Use the newer one.',
      'label-twice':
        'Two labels of one kind were scanned. Start again with one child, one bottle and one sleeve.',
      'wrong-child': 'This bottle is for another child. Do not feed it.',
      'child-left': 'This child is not here any more. Do not feed.',
      'bottle-empty': 'Nobody wrote down what is in this bottle. Do not feed it.',
      'milk-past': 'The time of this milk has passed. Do not feed it.',
      'milk-gone': 'The milk list has this milk no more. Do not feed it.',
      'bottle-bound': 'This bottle is bound to another sleeve already. Do not feed it.',
      'sleeve-feeding': 'A feed is running on this sleeve. Take another one.',
      'sleeve-bound': 'This sleeve is bound already. Take another one, or release it.',
    },
    atCot: (cot) => `Cot ${cot}:`,
    print: 'Print (PDF)',
    noFeeds: 'No feed in this time.',
    columns: ['Time', 'Taken', 'Left over', 'Use left-over by', 'Fed by', 'Notes'],
    milk: 'Milk on hand',
    usedBy: 'use by',
    passed: 'time has passed',
    breast: 'at the breast',
    refused: 'offered, not taken',
    whole: 'The list is whole.',
    broken: (no) => `The list was changed from line ${no} on.`,
    release: 'Release this sleeve',
    released: 'Released. Scan the three labels again.',
    trailColumns: ['When', 'Who', 'Role', 'What', 'Child', 'More'],
  },
  es: {
    board: 'Tablero',
    bind: 'Escanear',
    fill: 'Llenar',
    handover: 'Turno siguiente',
    trail: 'Quién miró',
    own: 'Mi bebé',
    studies: 'Estudios',
    navigation: 'Páginas',
    signIn: 'Iniciar sesión',
    signInSay: 'Inicie sesión para ver esto.',
    notSignedIn: {
      'sign-in-no-role':
        'Se sabe quién es usted, pero no tiene ninguna función aquí. Pregunte a quien administra las cuentas.',
      'sign-in-failed': 'No se pudo iniciar sesión. Inténtelo de nuevo.',
    },
    signOut: 'Cerrar sesión',
    bindSay:
      'Escanee la etiqueta del bebé, la del biberón y la de la funda, en cualquier orden. Con la tercera quedan asignados para la próxima toma.',
    code: 'Código de la etiqueta',
    enter: 'Introducir',
    again: 'Empezar de nuevo',
    camera: 'Usar la cámara',
    cameraOff: 'Apagar la cámara',
    kinds: { child: 'Bebé', bottle: 'Biberón', sleeve: 'Funda' },
    scanned: 'escaneado',
    still: 'falta escanear',
    bound: (cot, sleeve, until) => `Asignado: cuna ${cot}, funda ${sleeve}. Use la leche antes de ${until}.`,
    filling: {
      title: 'Llenar un biberón',
      say: 'Escanee la etiqueta del biberón y la del bebé, y diga qué leche se puso. El biberón es solo de este bebé hasta que se dé o se llene de nuevo.',
      bottle: 'Código del biberón',
      child: 'Código del bebé',
      from: '¿Qué leche?',
      froms: {
        list: 'De la lista de leche',
        expressed: 'Extraída ahora mismo',
        formula: 'Fórmula hecha ahora mismo',
      },
      container: 'Lo que dice en la tapa',
      amount: 'Cuánta',
      fill: 'Anotar',
      filled: (until) => `Anotado. Use la leche antes de ${until}.`,
    },
    stop: 'Alto',
    stops: {
      'label-unknown':
        'Esta no es una etiqueta de aquí. No dé la toma. Escanéela otra vez o escriba su código.',
      'label-replaced':
        'Se imprimió una etiqueta más nueva en lugar de esta. No dé la toma. Use la más nueva.',
      'label-twice':
        'Se escanearon dos etiquetas del mismo tipo. Empiece de nuevo con un bebé, un biberón y una funda.',
      'wrong-child': 'Este biberón es de otro bebé. No se lo dé.',
      'child-left': 'Este bebé ya no está aquí. No dé la toma.',
      'bottle-empty': 'Nadie anotó qué hay en este biberón. No lo dé.',
      'milk-past': 'Ya pasó el tiempo de esta leche. No la dé.',
      'milk-gone': 'Esta leche ya no está en la lista. No la dé.',
      'bottle-bound': 'Este biberón ya está asignado a otra funda. No lo dé.',
      'sleeve-feeding': 'En esta funda hay una toma en curso. Tome otra.',
      'sleeve-bound': 'Esta funda ya está asignada. Tome otra o libérela.',
    },
    atCot: (cot) => `Cuna ${cot}:`,
    print: 'Imprimir (PDF)',
    noFeeds: 'Ninguna toma en este tiempo.',
    columns: ['Hora', 'Tomado', 'Sobró', 'Usar lo que sobró antes de', 'Quién alimentó', 'Notas'],
    milk: 'Leche disponible',
    usedBy: 'usar antes de',
    passed: 'ya pasó el tiempo',
    breast: 'al pecho',
    refused: 'ofrecido, no tomado',
    whole: 'La lista está completa.',
    broken: (no) => `La lista fue cambiada desde la línea ${no}.`,
    release: 'Liberar esta funda',
    released: 'Liberada. Escanee otra vez las tres etiquetas.',
    trailColumns: ['Cuándo', 'Quién', 'Función', 'Qué', 'Bebé', 'Más'],
  },
};
