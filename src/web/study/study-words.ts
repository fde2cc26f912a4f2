/** Texts of the pages of studies. Amounts are in mL, as in the exports. */
import type { StudySession, StudySetAside } from '../../app/study/page/study-answers.ts';
import type { Language } from '../../pacing/cues/words.ts';

type SetAside = NonNullable<StudySession['setAside']>;

export interface StudyWords {
  title: string;
  link: string;
  none: string;
  /** In a house with many, to a researcher. */
  noneShared: string;
  /** Studies that are set aside. */
  unreadable: Record<StudySetAside['why'], (code: string) => string>;
  open: string;
  closed: string;
  counts: (participants: number, sessions: number) => string;
  blinded: string;
  withheld: string;
  notComputed: (code: string) => string;
  computedBy: (run: string, version: string) => string;
  sessions: string;
  noSessions: string;
  notShared: (count: number) => string;
  heads: readonly [string, string, string, string, string, string, string];
  setAside: Record<SetAside, string>;
  balance: string;
  balanceHeads: readonly [string, string, string];
  concealed: string;
  furthest: (count: number) => string;
  curves: string;
  byCommand: (code: string) => string;
}

const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

export const STUDY_WORDS: Record<Language, StudyWords> = {
  en: {
    title: 'Studies',
    link: 'Studies on this computer',
    none: 'No study has been begun on this computer. “ebbline study new” begins one.',
    noneShared: 'There is no study here yet.',
    unreadable: {
      newer: (code) =>
        `Study ${code} cannot be read by this version: open it with the version that made it, or a newer one.`,
      damaged: (code) =>
        `Study ${code} is damaged: “ebbline study list” says which file. Put it back from a backup.`,
    },
    open: 'open',
    closed: 'closed',
    counts: (participants, sessions) =>
      `${counted(participants, 'participant')}, ${counted(sessions, 'session')}`,
    blinded: 'Arms are coded until the study is closed.',
    withheld:
      'In an arm of this study cues are withheld, from consenting adults with healthy term babies. Signs of stress and the caregiver’s own judgment are never withheld.',
    notComputed: (code) => `Nothing was computed yet: run “ebbline study recompute ${code}” in a terminal.`,
    computedBy: (run, version) => `Numbers are of recomputation ${run}, by version ${version}.`,
    sessions: 'Sessions',
    noSessions: 'No feed belongs to this study yet.',
    notShared: (count) =>
      count === 1
        ? 'One session is not shown: its family’s consent is missing or has ended.'
        : `${count} sessions are not shown: their families’ consent is missing or has ended.`,
    heads: ['Session', 'Participant', 'Arm', 'Minutes', 'Milk, mL', 'Good rows, %', 'Set aside'],
    setAside: {
      'feed-missing': 'feed not kept any more',
      'not-ended': 'feed not ended, or discarded',
      'no-capture': 'raw counts missing',
      'no-calibration': 'no calibration',
      'calibration-undated': 'calibration without a date',
      'calibration-too-old': 'calibration too old',
      'calibration-of-another-sleeve': 'calibration of another sleeve',
      unreadable: 'calibration or counts unreadable',
      gaps: 'too many samples lost',
      'too-few-good-rows': 'too few good rows',
      'other-milk': 'another kind of milk',
      duplicate: 'counts of a session before',
    },
    balance: 'Allocation',
    balanceHeads: ['Stratum', 'Enrolled', 'By arm'],
    concealed: 'concealed',
    furthest: (count) => `Arms of a stratum are never further apart than ${count}.`,
    curves: 'Curves of the arms',
    byCommand: (code) =>
      `In a terminal: “ebbline study export ${code}” for tables and figures, “ebbline study close ${code}” when all feeds are in.`,
  },
  es: {
    title: 'Estudios',
    link: 'Estudios en esta computadora',
    none: 'En esta computadora no hay ningún estudio. Con «ebbline study new» se empieza uno.',
    noneShared: 'Aquí todavía no hay ningún estudio.',
    unreadable: {
      newer: (code) =>
        `Esta versión no puede leer el estudio ${code}: ábralo con la versión que lo hizo, o con una más nueva.`,
      damaged: (code) =>
        `El estudio ${code} está dañado: «ebbline study list» dice qué archivo. Recupérelo de una copia de seguridad.`,
    },
    open: 'abierto',
    closed: 'cerrado',
    counts: (participants, sessions) =>
      `${counted(participants, 'participante')}, ${sessions === 1 ? '1 sesión' : `${sessions} sesiones`}`,
    blinded: 'Los grupos llevan claves hasta que se cierre el estudio.',
    withheld:
      'En un grupo de este estudio no se muestran avisos, a adultos que consienten y con bebés sanos nacidos a término. Los signos de estrés y el criterio de quien alimenta nunca se retienen.',
    notComputed: (code) => `Aún no hay nada calculado: «ebbline study recompute ${code}» en una terminal.`,
    computedBy: (run, version) => `Las cifras son del cálculo ${run}, con la versión ${version}.`,
    sessions: 'Sesiones',
    noSessions: 'Todavía no hay tomas en este estudio.',
    notShared: (count) =>
      count === 1
        ? 'Una sesión no se muestra: falta el consentimiento de la familia, o terminó.'
        : `${count} sesiones no se muestran: falta el consentimiento de las familias, o terminó.`,
    heads: ['Sesión', 'Participante', 'Grupo', 'Minutos', 'Leche, mL', 'Filas buenas, %', 'Apartada'],
    setAside: {
      'feed-missing': 'la toma ya no se guarda',
      'not-ended': 'toma sin terminar o descartada',
      'no-capture': 'faltan los datos en bruto',
      'no-calibration': 'sin calibración',
      'calibration-undated': 'calibración sin fecha',
      'calibration-too-old': 'calibración demasiado antigua',
      'calibration-of-another-sleeve': 'calibración de otra funda',
      unreadable: 'calibración o datos ilegibles',
      gaps: 'demasiadas muestras perdidas',
      'too-few-good-rows': 'muy pocas filas buenas',
      'other-milk': 'otro tipo de leche',
      duplicate: 'datos de una sesión anterior',
    },
    balance: 'Asignación',
    balanceHeads: ['Estrato', 'Inscritos', 'Por grupo'],
    concealed: 'oculto',
    furthest: (count) => `Los grupos de un estrato nunca se separan más de ${count}.`,
    curves: 'Curvas de los grupos',
    byCommand: (code) =>
      `En una terminal: «ebbline study export ${code}» para tablas y figuras, «ebbline study close ${code}» cuando estén todas las tomas.`,
  },
};
